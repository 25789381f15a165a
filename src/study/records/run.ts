import type { Count, Micrometres, Millilitres } from '../../units/index.ts';
import type { PersonId } from './laboratory.ts';
import type { EditionId, Step } from './procedure.ts';
import { aStep } from './procedure.ts';
import {
  aDay,
  aName,
  aNote,
  anId,
  anInstant,
  type Day,
  type Id,
  type Instant,
  listOf,
  maker,
  notNegative,
  number,
  oneOf,
  orNull,
  positive,
  record,
  text,
} from './rules.ts';
import type { PortionId } from './specimen.ts';
import type { StudyId } from './study.ts';

export type RunId = Id<'run'>;
export type DeviationId = Id<'deviation'>;
export type FractionId = Id<'fraction'>;

export const CONTROL_KINDS = [
  'reagent-blank',
  'procedural-blank',
  'matrix-blank',
  'act-control',
  'air-control',
  'filter-blank',
  'spiked-run',
  'known-material',
] as const;
export type ControlKind = (typeof CONTROL_KINDS)[number];
/** The control that shares most with a specimen run comes first: it holds everything but the product. */
export const BACKGROUND_KINDS: readonly ControlKind[] = ['act-control', 'matrix-blank', 'procedural-blank'];
export const RUN_KINDS = ['specimen', ...CONTROL_KINDS] as const;
export type RunKind = (typeof RUN_KINDS)[number];

/** Known pieces added on purpose, to see how many come back. */
export interface Spike {
  readonly added: Count;
  readonly colour: string;
  readonly material: string;
  readonly sizeUm: Micrometres | null;
}

/** One carrying-out of an edition, on a portion or as a control. */
export interface Run {
  readonly id: RunId;
  readonly study: StudyId;
  readonly edition: EditionId;
  readonly kind: RunKind;
  readonly name: string;
  readonly portion: PortionId | null;
  readonly spike: Spike | null;
  readonly day: Day;
  /** Runs of one sitting share it; an open dish belongs to a session. */
  readonly session: string;
  readonly order: number;
  readonly by: PersonId;
  readonly note: string;
  readonly madeAt: Instant;
}

export const makeRun = maker<Run>(
  'run',
  {
    id: anId,
    study: anId,
    edition: anId,
    kind: oneOf(RUN_KINDS),
    name: aName,
    portion: orNull(anId),
    spike: orNull(
      record<Spike>({
        added: number({ from: 1, whole: true }),
        colour: text(1, 40),
        material: text(0, 120),
        sizeUm: orNull(positive),
      }),
    ),
    day: aDay,
    session: text(1, 60),
    order: number({ from: 1, whole: true }),
    by: anId,
    note: aNote,
    madeAt: anInstant,
  },
  (run) => {
    if (run.kind === 'specimen' && run.portion === null) {
      return {
        why: 'no-portion',
        message: `run “${run.name}”: a specimen run needs its portion with a mass; weigh one and enter it first.`,
      };
    }
    if (
      run.kind !== 'specimen' &&
      run.kind !== 'spiked-run' &&
      run.kind !== 'known-material' &&
      run.portion !== null
    ) {
      return {
        why: 'portion-on-control',
        message: `run “${run.name}”: a control of the kind ${run.kind} has no portion of the product; leave it out.`,
      };
    }
    if (run.kind === 'spiked-run' && run.spike === null) {
      return {
        why: 'no-spike',
        message: `run “${run.name}”: a spiked run needs the number of known pieces that were added.`,
      };
    }
    if (run.kind !== 'spiked-run' && run.kind !== 'known-material' && run.spike !== null) {
      return {
        why: 'spike-on-run',
        message: `run “${run.name}”: known pieces belong in a spiked run; record this one as that kind.`,
      };
    }
    return null;
  },
);

/** What was done otherwise than the edition says: a step changed, left out, or put in after another. */
export const DEVIATION_KINDS = ['changed', 'left-out', 'put-in'] as const;
export type DeviationKind = (typeof DEVIATION_KINDS)[number];

export interface Deviation {
  readonly id: DeviationId;
  readonly runs: readonly RunId[];
  readonly kind: DeviationKind;
  /** The step changed or left out; for put-in the step before it (null: at the start). */
  readonly stepKey: string | null;
  /** The step as it was done; null when left out. */
  readonly asDone: Step | null;
  readonly what: string;
  readonly why: string;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeDeviation = maker<Deviation>(
  'deviation',
  {
    id: anId,
    runs: listOf(anId, 1000),
    kind: oneOf(DEVIATION_KINDS),
    stepKey: orNull(text(1, 60)),
    asDone: orNull(aStep),
    what: text(1, 1000, true),
    why: aNote,
    at: anInstant,
    by: anId,
  },
  (d) => {
    if (d.runs.length === 0) return { why: 'no-runs', message: 'deviation: say which runs it touches.' };
    if ((d.kind === 'left-out') !== (d.asDone === null)) {
      return {
        why: 'no-step',
        message:
          'deviation: a step that was changed or put in is needed as it was done, and none for one left out.',
      };
    }
    if (d.kind !== 'put-in' && d.stepKey === null) {
      return { why: 'no-step', message: 'deviation: say which step was changed or left out.' };
    }
    return null;
  },
);

export const FRACTION_KINDS = ['passed', 'remainder', 'sediment', 'float', 'rinse'] as const;
export type FractionKind = (typeof FRACTION_KINDS)[number];
/** Nothing vanishes: every millilitre ends in one of these. */
export const FATES = ['examined', 'kept', 'discarded', 'lost'] as const;
export type Fate = (typeof FATES)[number];

/** A liquid or solid that a run splits into. */
export interface RunFraction {
  readonly id: FractionId;
  readonly run: RunId;
  readonly kind: FractionKind;
  readonly volumeMl: Millilitres;
  readonly place: string;
  readonly fate: Fate;
  readonly note: string;
  readonly at: Instant;
}

export const makeRunFraction = maker<RunFraction>(
  'fraction',
  {
    id: anId,
    run: anId,
    kind: oneOf(FRACTION_KINDS),
    volumeMl: notNegative,
    place: text(0, 200),
    fate: oneOf(FATES),
    note: aNote,
    at: anInstant,
  },
  (f) =>
    f.fate === 'kept' && f.place.trim() === ''
      ? {
          why: 'no-place',
          message: 'fraction: one that is kept needs its place, so that it can be found again.',
        }
      : null,
);
