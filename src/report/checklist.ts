/**
 * Published reporting and quality items, filled from the records. Items are in our own words after Cowger et al. 2020, Brander et al. 2020,
 * Koelmans et al. 2019 and Hermsen et al. 2018 (wording from memory) and common practice; no conformity is claimed.
 */
import { figure, percent } from './charts/index.ts';
import type { ReportFacts, ReportRun } from './facts.ts';
import { many } from './words.ts';

/** What a missing item does: blocks an amount, weakens the claim and must be said, or is worth a note. */
export type Severity = 'blocks' | 'weakens' | 'note';
export type ItemState = 'met' | 'partly' | 'missing' | 'does-not-apply';

export interface CheckedItem {
  readonly id: string;
  readonly item: string;
  readonly state: ItemState;
  readonly severity: Severity;
  /** What the records say, or what is missing and where it is entered. */
  readonly says: string;
  readonly after: string;
}

const COWGER = 'Cowger 2020';
const BRANDER = 'Brander 2020';
const KOELMANS = 'Koelmans 2019';
const PRACTICE = 'common practice, no source';

/** The items, in the order of the work. */
export function reportingChecklist(facts: ReportFacts): readonly CheckedItem[] {
  const { study, runs, photos, pieces, procedures, deviations, specimens } = facts;
  const { question } = study;
  const first = specimens[0];
  const ofKind = (kind: ReportRun['kind']) => runs.filter((run) => run.kind === kind && run.count !== null);
  const mine = runs.filter((run) => run.kind === 'specimen');
  const serving = runs.filter((run) => run.inBackground);
  const filters = runs.flatMap((run) => run.filters);
  const searched = photos.filter((photo) => photo.method !== null && photo.refusal === null);
  const spiked = runs.filter((run) => run.added !== null && run.recovered !== null);
  const digests = procedures
    .filter((one) => one.runs.length > 0)
    .flatMap((one) => one.steps)
    .filter((step) => step.kind === 'digest');
  const items: CheckedItem[] = [];
  const add = (
    id: string,
    item: string,
    severity: Severity,
    after: string,
    state: ItemState | boolean,
    says: string,
  ) =>
    items.push({
      id,
      item,
      severity,
      after,
      says,
      state: state === true ? 'met' : state === false ? 'missing' : state,
    });
  /** All, some or none of a number of things. */
  const shareOf = (have: number, of: number): ItemState =>
    of > 0 && have === of ? 'met' : have > 0 ? 'partly' : 'missing';

  add(
    'Q1',
    'Question: product, act, duration, liquid, sizes, unit',
    'blocks',
    COWGER,
    question.durationMin !== null && question.liquid !== '' ? 'met' : 'partly',
    question.durationMin === null
      ? 'The duration is not fixed (Question).'
      : question.liquid === ''
        ? 'No liquid is named (Question).'
        : 'All six are filled.',
  );
  add(
    'Q2',
    'What counts as microplastic is written down',
    'blocks',
    COWGER,
    question.countsAs !== '',
    question.countsAs === '' ? 'Not written down (Question).' : question.countsAs,
  );
  add(
    'Q5',
    'Several runs of the product, not several squares of one',
    'blocks',
    PRACTICE,
    mine.length >= 3 ? 'met' : mine.length > 1 ? 'partly' : 'missing',
    many(mine.length, 'specimen run'),
  );
  add(
    'P1',
    'Every run cites an edition of a procedure',
    'blocks',
    COWGER,
    shareOf(runs.filter((run) => run.edition !== null).length, runs.length),
    `${runs.filter((run) => run.edition !== null).length} of ${runs.length} runs`,
  );
  add(
    'P2',
    'Deviations are logged with time, reason and runs',
    'blocks',
    COWGER,
    deviations.every((one) => one.why !== '') ? 'met' : 'partly',
    deviations.length === 0
      ? 'None was recorded.'
      : `${many(deviations.length, 'deviation')}, ${deviations.filter((one) => one.why === '').length} without a reason`,
  );
  add(
    'C1',
    'Three matching controls at least',
    'blocks',
    `${KOELMANS}; ${BRANDER}`,
    serving.length >= 3 ? 'met' : serving.length > 0 ? 'partly' : 'missing',
    `${many(serving.length, 'control')} in the background`,
  );
  add(
    'C1b',
    'Procedural blanks, three at least',
    'weakens',
    `${KOELMANS}; ${BRANDER}`,
    ofKind('procedural-blank').length >= 3
      ? 'met'
      : ofKind('procedural-blank').length > 0
        ? 'partly'
        : 'missing',
    many(ofKind('procedural-blank').length, 'procedural blank'),
  );
  add(
    'C4',
    'The same act without the product',
    'blocks',
    PRACTICE,
    ofKind('act-control').length >= 3 ? 'met' : ofKind('act-control').length > 0 ? 'partly' : 'missing',
    many(ofKind('act-control').length, 'act control'),
  );
  add(
    'C5',
    'Open dish beside the work',
    'weakens',
    BRANDER,
    ofKind('air-control').length > 0,
    many(ofKind('air-control').length, 'air control'),
  );
  add(
    'C6',
    'Reagent or rinse-water blank',
    'weakens',
    BRANDER,
    ofKind('reagent-blank').length > 0,
    many(ofKind('reagent-blank').length, 'reagent blank'),
  );
  add(
    'C7',
    'Recovery of known pieces, three runs at least',
    'blocks',
    `${KOELMANS}; Hermsen 2018`,
    spiked.length >= 3 ? 'met' : spiked.length > 0 ? 'partly' : 'missing',
    spiked.length === 0
      ? 'Not measured (Runs: spiked run).'
      : `${many(spiked.length, 'spiked run')}, ${spiked.reduce((s, run) => s + run.recovered!, 0)} of ${spiked.reduce((s, run) => s + run.added!, 0)} found again`,
  );
  add(
    'C10',
    'Controls match the runs step by step',
    'blocks',
    KOELMANS,
    shareOf(facts.coverage.filter((group) => group.judged).length, facts.coverage.length),
    `${facts.coverage.filter((group) => group.judged).flatMap((group) => group.runs).length} of ${facts.coverage.flatMap((group) => group.runs).length} specimen runs have controls of their own`,
  );
  add(
    'S1',
    'Product: maker, lot, age, material',
    'blocks',
    COWGER,
    shareOf(
      specimens.filter(
        ({ specimen: s }) => s.maker !== '' && s.lot !== '' && s.age !== '' && s.material !== '',
      ).length,
      specimens.length,
    ),
    specimens
      .map(
        ({ specimen: s }) =>
          `${s.name}: ${[s.maker && 'maker', s.lot && 'lot', s.age && 'age', s.material && 'material'].filter(Boolean).join(', ') || 'nothing said'}`,
      )
      .join('; '),
  );
  add(
    'S1b',
    'Mass of each portion, and which mass',
    'blocks',
    COWGER,
    shareOf(mine.filter((run) => run.massG !== null).length, mine.length),
    `${mine.filter((run) => run.massG !== null).length} of ${mine.length} specimen runs`,
  );
  const open = procedures.filter((one) => one.runs.length > 0).flatMap((one) => one.steps);
  add(
    'S2',
    'Minutes uncovered are recorded',
    'weakens',
    PRACTICE,
    shareOf(open.filter((step) => step.minutesUncovered !== null).length, open.length),
    `${open.filter((step) => step.minutesUncovered !== null).length} of ${open.length} steps`,
  );
  add(
    'D1',
    'Digestion: reagent, volume, temperature, time',
    'blocks',
    COWGER,
    digests.length === 0
      ? 'does-not-apply'
      : shareOf(
          digests.filter(
            (step) =>
              step.quantities.temperature_c !== undefined &&
              step.quantities.minutes !== undefined &&
              step.touches.liquid !== null,
          ).length,
          digests.length,
        ),
    digests.length === 0 ? 'Nothing was digested.' : `${many(digests.length, 'digestion step')} on record`,
  );
  add(
    'F1',
    'Filter: material, pore, wetted diameter',
    'blocks',
    COWGER,
    shareOf(filters.filter((filter) => filter.material !== '').length, filters.length),
    `${filters.filter((filter) => filter.material !== '').length} of ${filters.length} filters`,
  );
  add(
    'F2',
    'Share of the liquid that passed',
    'blocks',
    PRACTICE,
    shareOf(mine.filter((run) => run.passed !== null).length, mine.length),
    `${mine.filter((run) => run.passed !== null).length} of ${mine.length} specimen runs`,
  );
  add(
    'I1',
    'Scale of every photograph',
    'blocks',
    COWGER,
    shareOf(searched.filter((photo) => photo.umPerPx !== null).length, searched.length),
    `${searched.filter((photo) => photo.umPerPx !== null).length} of ${searched.length} searched photographs`,
  );
  add(
    'I2',
    'Smallest piece is ten pixels across',
    'weakens',
    'ISO 13322-1 (from memory)',
    shareOf(
      searched.filter((photo) => photo.umPerPx !== null && facts.sizeFromUm / photo.umPerPx >= 10).length,
      searched.length,
    ),
    `counted from ${figure(facts.sizeFromUm)} µm`,
  );
  add(
    'I4',
    'Every planned filter was photographed and read',
    'blocks',
    PRACTICE,
    shareOf(filters.filter((filter) => filter.searched > 0).length, filters.length),
    `${filters.filter((filter) => filter.searched > 0).length} of ${filters.length} filters`,
  );
  add(
    'N1',
    'Share of each filter that was examined',
    'blocks',
    COWGER,
    shareOf(runs.filter((run) => run.examined !== null).length, runs.length),
    `${runs.filter((run) => run.examined !== null).length} of ${runs.length} runs`,
  );
  add(
    'N2',
    'Lower size limit and which dimension',
    'blocks',
    `ISO 24187 (from memory); ${COWGER}`,
    true,
    `from ${figure(facts.sizeFromUm)} µm, maximum Feret diameter`,
  );
  add(
    'N4',
    'Every piece has place, size, class',
    'weakens',
    PRACTICE,
    pieces.length > 0 ? 'met' : 'missing',
    many(pieces.length, 'piece'),
  );
  const looked = pieces.filter((piece) => piece.standing !== 'unmarked').length;
  add(
    'N5',
    'A person decided on every piece',
    'weakens',
    PRACTICE,
    shareOf(looked, pieces.length),
    `${looked} of ${pieces.length} pieces`,
  );
  const identified = first?.facts.identification;
  add(
    'T3',
    'A random part was confirmed by another test',
    'weakens',
    'Cowger 2024; De Frond 2023',
    identified !== undefined && identified.tested > 0 ? (identified.atRandom ? 'met' : 'partly') : 'missing',
    identified === undefined || identified.tested === 0
      ? 'None was tested (Evidence): pieces are suspected, by eye.'
      : `${identified.passed} of ${identified.tested} passed`,
  );
  add(
    'T2',
    'The scorer’s error on known pieces',
    'weakens',
    PRACTICE,
    first?.input.input.drill ? 'met' : 'missing',
    first?.input.input.drill ? 'A drill is in the number.' : 'No drill is on record (Evidence).',
  );
  add(
    'R1',
    'Raw counts of every run and control',
    'blocks',
    `${BRANDER}; ${COWGER}`,
    shareOf(runs.filter((run) => run.count !== null).length, runs.length),
    `${runs.filter((run) => run.count !== null).length} of ${runs.length} runs counted`,
  );
  add(
    'R3',
    'Limit of detection, and how it was found',
    'blocks',
    'Dawson 2023; Lao & Wong 2023',
    first?.judged ? 'met' : 'missing',
    first?.judged
      ? `${figure(first.judged.thresholds.detectionPerGram)} per gram, exact`
      : 'Nothing was judged.',
  );
  add(
    'R4',
    'Interval of the result with background, recovery, fraction, error',
    'blocks',
    PRACTICE,
    first?.claim.netPerGram ? 'met' : 'missing',
    first?.claim.netPerGram
      ? `${percent(first.claim.netPerGram.confidence)} interval`
      : 'No amount is stated.',
  );
  add(
    'X2',
    'Originals, marks, plan and deviations are kept',
    'weakens',
    COWGER,
    photos.length > 0 ? 'met' : 'missing',
    `${many(photos.length, 'original')}, each by its SHA-256`,
  );
  return items;
}
