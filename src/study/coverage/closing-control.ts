import type { ControlKind } from '../records/run.ts';
import type { Cause } from '../step-kinds/index.ts';

/** The least work that isolates each cause. The kinds of control and what they catch: common practice. */
const CHEAPEST: Readonly<Record<Cause, ControlKind>> = {
  product: 'act-control',
  act: 'act-control',
  tool: 'act-control',
  person: 'act-control',
  matrix: 'matrix-blank',
  liquid: 'reagent-blank',
  reagent: 'reagent-blank',
  air: 'air-control',
  vessel: 'procedural-blank',
  filter: 'filter-blank',
  photograph: 'filter-blank',
  scorer: 'filter-blank',
};

const CALLED: Readonly<Partial<Record<ControlKind, string>>> = {
  'act-control': 'a run of the same act without the product',
  'matrix-blank': 'a blank of the food or liquid alone',
  'reagent-blank': 'a reagent blank',
  'air-control': 'an open dish beside the work',
  'procedural-blank': 'a blank through every step',
  'filter-blank': 'a filter that nothing passed',
};

const LEFT_OPEN: Readonly<Record<Cause, string>> = {
  product: 'the product',
  act: 'the act itself',
  tool: 'the tool',
  person: 'the person',
  matrix: 'the food or liquid',
  liquid: 'the liquid',
  reagent: 'the reagent',
  air: 'dust from the air',
  vessel: 'the vessel',
  filter: 'the filter',
  photograph: 'how it was photographed',
  scorer: 'who marked it',
};

export const closingControl = (cause: Cause): ControlKind => CHEAPEST[cause];
export const controlCalled = (kind: ControlKind): string => CALLED[kind] ?? kind;
export const leftOpen = (cause: Cause): string => LEFT_OPEN[cause];
