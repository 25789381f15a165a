/**
 * Preparations that can be made beside the runs, and which causes of particles each of them holds. Kinds and what they catch:
 * common practice after the published kinds of blank (Brander et al. 2020, Koelmans et al. 2019; details from memory, unverified).
 */
import type { ControlKind } from '../records/run.ts';
import { CAUSES, type Cause } from '../step-kinds/index.ts';

export interface Candidate {
  readonly name: string;
  /** Null: no filter of its own; the same photographs are read again. */
  readonly kind: ControlKind | null;
  readonly called: string;
  /** What is done, in one sentence. */
  readonly how: string;
  readonly holds: readonly Cause[];
  /** Hours of hands, beside those of a whole run (1). */
  readonly cost: number;
}

const without = (...left: readonly Cause[]): readonly Cause[] =>
  CAUSES.filter((cause) => !left.includes(cause));
const LOOKED_AT: readonly Cause[] = ['filter', 'photograph', 'scorer'];

/** In the order in which equals are preferred. */
export const CANDIDATES: readonly Candidate[] = [
  {
    name: 'act-control',
    kind: 'act-control',
    called: 'act control',
    how: 'The same act with a body of glass or steel in place of the product, through every step.',
    holds: without('product'),
    cost: 1,
  },
  {
    name: 'matrix-blank',
    kind: 'matrix-blank',
    called: 'matrix blank',
    how: 'The food or liquid alone, without the act, through every step after it.',
    holds: without('product', 'act', 'tool'),
    cost: 0.9,
  },
  {
    name: 'procedural-blank',
    kind: 'procedural-blank',
    called: 'procedural blank',
    how: 'Every step with neither product nor food.',
    holds: without('product', 'act', 'tool', 'matrix'),
    cost: 0.8,
  },
  {
    name: 'other-tool',
    kind: 'act-control',
    called: 'act control with another tool',
    how: 'The act control once more with a tool of other material: a ceramic or all-steel knife, a wooden spoon.',
    holds: without('product', 'tool'),
    cost: 1,
  },
  {
    name: 'reagent-blank',
    kind: 'reagent-blank',
    called: 'reagent blank',
    how: 'The reagents and the water alone, straight onto a filter.',
    holds: ['liquid', 'reagent', ...LOOKED_AT],
    cost: 0.4,
  },
  {
    name: 'rinse-blank',
    kind: 'reagent-blank',
    called: 'rinse-water blank',
    how: 'As much of the filtered water as a run uses, straight onto a filter.',
    holds: ['liquid', ...LOOKED_AT],
    cost: 0.3,
  },
  {
    name: 'vessel-blank',
    kind: 'reagent-blank',
    called: 'rinse of the vessels',
    how: 'The cleaned vessels rinsed with filtered water, the rinse onto a filter.',
    holds: ['liquid', 'vessel', ...LOOKED_AT],
    cost: 0.4,
  },
  {
    name: 'open-dish',
    kind: 'air-control',
    called: 'open dish',
    how: 'A wet filter in a dish beside the work, open for as long as a run stands open; write down area, minutes and height.',
    holds: ['air', ...LOOKED_AT],
    cost: 0.2,
  },
  {
    name: 'filter-blank',
    kind: 'filter-blank',
    called: 'filter blank',
    how: 'A filter of the same lot that nothing passed, photographed and marked like the others.',
    holds: LOOKED_AT,
    cost: 0.2,
  },
  {
    name: 'empty-slide',
    kind: 'known-material',
    called: 'photograph of a clean surface',
    how: 'A clean, checked surface photographed and marked like a filter: what lens and lamp pretend.',
    holds: ['photograph', 'scorer'],
    cost: 0.1,
  },
  {
    name: 'second-reading',
    kind: null,
    called: 'second reading',
    how: 'The same photographs marked by another person, who does not know which is which.',
    holds: without('scorer'),
    cost: 0.3,
  },
];
