/** What this study did about each thing that makes published values comparable, in words: to be answered against. */
import {
  BACKGROUND_KINDS,
  type ComparabilityQuestion,
  type Edition,
  type Study,
  stepWords,
  type WhichMass,
} from '../study/index.ts';
import type { CountedRun } from './count-runs.ts';
import type { Standing } from './standing.ts';

const MASS_WORDS: Readonly<Record<WhichMass, string>> = {
  'product-before': 'of product, weighed before',
  'product-after': 'of product, weighed after',
  'food-or-liquid': 'of food or liquid',
};
const IDENTIFIED = { 'by-eye': 'by eye', melts: 'by melting', polymer: 'as a polymer, by spectrum' } as const;

const listed = (words: readonly string[], none: string): string => {
  const distinct = [...new Set(words)];
  return distinct.length === 0 ? none : distinct.join(', ');
};

export function hereOf(
  { question }: Study,
  { specimens }: Standing,
  runs: readonly CountedRun[],
  editions: readonly Edition[],
): Readonly<Record<ComparabilityQuestion, string>> {
  const first = specimens[0];
  const mine = runs.filter(({ run }) => run.kind === 'specimen');
  const followed = editions.filter((edition) => mine.some(({ run }) => run.edition === edition.id));
  const digests = followed.flatMap(({ steps }) => steps.filter(({ kind }) => kind === 'digest'));
  const background = first?.input.background ?? null;
  const judged = first?.judged.ok ? first.judged.value : null;
  const limits = [...question.shapes, ...question.colours].join(', ');
  return {
    'what-counts': `${question.countsAs === '' ? 'not written down' : question.countsAs}${limits === '' ? '' : ` (${limits})`}`,
    'how-sized': 'longest Feret diameter',
    identified: IDENTIFIED[first?.facts.identification.by ?? 'by-eye'],
    background:
      background === null || !(BACKGROUND_KINDS as readonly string[]).includes(background)
        ? 'no controls that match'
        : `taken away, from each ${background.replaceAll('-', ' ')} that went through the same steps`,
    basis: `per gram ${listed(
      mine.flatMap(({ portion }) => (portion ? [MASS_WORDS[portion.massIs]] : [])),
      '(no portion weighed yet)',
    )}`,
    recovery: judged?.recovery
      ? `corrected: ${Math.round(100 * judged.recovery.value)} % of known pieces came back`
      : 'not corrected: recovery was not measured',
    act: [
      question.act,
      question.durationMin === null ? '' : `${question.durationMin} min`,
      question.liquid === '' ? '' : `in ${question.liquid}`,
    ]
      .filter(Boolean)
      .join(', '),
    product: first
      ? [first.specimen.name, first.specimen.material, first.specimen.age].filter(Boolean).join(', ')
      : question.product,
    digestion: listed(
      digests.map((step) => [stepWords(step), step.touches.liquid].filter(Boolean).join(' with ')),
      'none on record',
    ),
    filter: listed(
      mine.flatMap(({ filters }) => filters.map(({ material, poreUm }) => `${material}, ${poreUm} µm`)),
      'none on record',
    ),
  };
}
