/**
 * The two published 0/1/2 scores of studies (nine criteria for water, ten for biota), as far as records can answer.
 * Source: Koelmans et al. 2019, Water Res. 155:410; Hermsen et al. 2018, ES&T 52:10230. What earns a 1 or a 2 is from memory,
 * unverified. Deceives when: read as a measure of truth; good paperwork can hide a missing control, so no percentage is made of it.
 */
import { type ChecklistFacts, hasStep, ofKind, specimenRuns, stepsOfKind } from './facts.ts';

export interface Criterion {
  readonly name: string;
  readonly score: 0 | 1 | 2;
  readonly because: string;
}

export interface PublishedScore {
  readonly name: string;
  readonly criteria: readonly Criterion[];
  readonly total: number;
  readonly most: number;
  /** The published rule: any criterion at nought, and the study as a whole is not held reliable. */
  readonly anyNought: boolean;
}

type Rate = (facts: ChecklistFacts) => Criterion;
const rate = (name: string, score: 0 | 1 | 2, because: string): Criterion => ({ name, score, because });
const counted = (runs: ReturnType<typeof ofKind>) => runs.filter(({ count }) => count !== null).length;

const sampling: Rate = ({ study, specimens }) => {
  const described = specimens.some(
    ({ lot, material, maker }) => lot !== '' && (material !== '' || maker !== ''),
  );
  return rate(
    'sampling method',
    described && study.question.act !== '' ? 2 : specimens.length > 0 ? 1 : 0,
    described ? 'Product, lot and act are described.' : 'Say lot and material of the product.',
  );
};
const sampleSize: Rate = (facts) => {
  const n = counted(specimenRuns(facts));
  return rate(
    'sample size',
    n >= 6 ? 2 : n >= 3 ? 1 : 0,
    `${n} specimen runs counted (in place of the published litres: enough that a release would stand out).`,
  );
};
const storage: Rate = (facts) => {
  const rinsed = hasStep(specimenRuns(facts), 'rinse');
  return rate(
    'processing and storage',
    rinsed ? 2 : specimenRuns(facts).length > 0 ? 1 : 0,
    rinsed
      ? 'Vessels are rinsed with the liquid on record.'
      : 'Write down how vessels are rinsed and closed.',
  );
};
const laboratory: Rate = (facts) => {
  const cleaned =
    specimenRuns(facts).length > 0 &&
    specimenRuns(facts).every(({ steps }) => steps[0]?.kind === 'rinse' || steps[1]?.kind === 'rinse');
  const covered = facts.runs.some(({ steps }) => steps.some((step) => step.minutesUncovered !== null));
  return rate(
    'laboratory preparation',
    cleaned && covered ? 2 : cleaned || covered ? 1 : 0,
    'Rinsed before use, and minutes uncovered on record.',
  );
};
const cleanAir: Rate = (facts) => {
  const sessions = new Set(specimenRuns(facts).map(({ run }) => run.session));
  const dishes = new Set(ofKind(facts, 'air-control').map(({ run }) => run.session));
  const all = sessions.size > 0 && [...sessions].every((session) => dishes.has(session));
  const box = facts.runs.some(({ steps }) =>
    steps.some((step) => /laminar|clean ?room|clean ?bench/i.test(step.touches.place ?? '')),
  );
  return rate(
    'clean air',
    box ? 2 : all ? 1 : 0,
    box
      ? 'Laminar flow or clean room.'
      : all
        ? 'An open dish in every sitting, no clean bench.'
        : 'No clean bench, and a sitting without an open dish.',
  );
};
const negative: Rate = (facts) => {
  const n = counted(ofKind(facts, 'procedural-blank', 'act-control', 'matrix-blank'));
  const matched = specimenRuns(facts).length > 0 && specimenRuns(facts).every((run) => run.matched !== false);
  return rate(
    'negative controls',
    n >= 3 && matched ? 2 : n > 0 ? 1 : 0,
    `${n} counted${matched ? ', in parallel and corrected for' : '; not every run has its match'}.`,
  );
};
const positive: Rate = (facts) => {
  const n = counted(ofKind(facts, 'spiked-run'));
  return rate('positive controls', n >= 3 ? 2 : n > 0 ? 1 : 0, `${n} spiked runs counted.`);
};
const target: Rate = ({ study }) =>
  rate(
    'target component',
    study.question.countsAs !== '' ? 2 : 0,
    study.question.countsAs !== '' ? 'What counts is written down.' : 'Say what counts.',
  );
/** A note of a specimen run, or of one of its steps, that says why nothing is digested. */
const undigested = (facts: ChecklistFacts): string | null =>
  specimenRuns(facts)
    .flatMap(({ run, steps }) => [run.note, ...steps.map(({ note }) => note)])
    .find((note) =>
      /\b(no|not|without|un)\b.*digest|digest.*\b(unnecessary|needless)\b|undigested/i.test(note),
    ) ?? null;

const treatment: Rate = (facts) => {
  const steps = stepsOfKind(specimenRuns(facts), 'digest');
  if (steps.length === 0) {
    const said = undigested(facts);
    if (said !== null)
      return rate('sample treatment', 2, `Not digested, with the reason on record: “${said}”.`);
    const food =
      stepsOfKind(specimenRuns(facts), 'cut').length > 0 || ofKind(facts, 'matrix-blank').length > 0;
    return rate(
      'sample treatment',
      food || specimenRuns(facts).length === 0 ? 0 : 1,
      'Not digested, and that it is not needed is not shown: filter 5 mL, see whether the squares show through, and write in the note of the filter step why no digestion is needed.',
    );
  }
  const mild = steps.every((step) => (step.quantities.temperature_c ?? 100) <= 60);
  return rate(
    'sample treatment',
    mild ? 2 : 1,
    mild ? 'Digested at 60 °C at most.' : 'Digested hotter than 60 °C, or the temperature is not said.',
  );
};
const polymer: Rate = ({ confirmation: { tested }, tests, claim }) => {
  const by = claim.identifiedBy === 'polymer';
  return rate(
    'polymer identification',
    by && tested >= 50 ? 2 : tests.pieces > 0 ? 1 : 0,
    by
      ? `${tested} pieces by spectrum, drawn at random.`
      : tests.pieces > 0
        ? `${tests.pieces} pieces tested, none by spectrum.`
        : 'By eye alone.',
  );
};

function scored(name: string, rates: readonly Rate[], facts: ChecklistFacts): PublishedScore {
  const criteria = rates.map((one) => one(facts));
  return {
    name,
    criteria,
    total: criteria.reduce((sum, { score }) => sum + score, 0),
    most: 2 * criteria.length,
    anyNought: criteria.some(({ score }) => score === 0),
  };
}

export const publishedScores = (facts: ChecklistFacts): readonly PublishedScore[] => [
  scored(
    'Koelmans 2019, nine criteria for water',
    [sampling, sampleSize, storage, laboratory, cleanAir, negative, positive, treatment, polymer],
    facts,
  ),
  scored(
    'Hermsen 2018, ten criteria for biota',
    [sampling, sampleSize, storage, laboratory, cleanAir, negative, positive, target, treatment, polymer],
    facts,
  ),
];
