/** What a study means to do before it is done: the answers that led to it, the runs planned, and its rules of comparison. */
import type { Tolerances } from '../coverage/tolerances.ts';
import type { Json } from './claim-snapshot.ts';
import type { PersonId } from './laboratory.ts';
import type { EditionId } from './procedure.ts';
import {
  aFraction,
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  notNegative,
  number,
  oneOf,
  orNull,
  record,
  text,
} from './rules.ts';
import { RUN_KINDS, type RunKind } from './run.ts';
import type { SpecimenId } from './specimen.ts';
import type { StudyId } from './study.ts';

export type PlanId = Id<'plan'>;

/** A run that is meant to be done; it becomes a run when it is recorded under its name. */
export interface PlannedRun {
  readonly name: string;
  readonly kind: RunKind;
  readonly edition: EditionId;
  readonly specimen: SpecimenId | null;
  readonly session: string;
  /** 1, 2, 3 … in the order in which the runs are to be done. */
  readonly order: number;
  /** Why it is there: what it isolates. */
  readonly because: string;
}

export interface Plan {
  readonly id: PlanId;
  readonly study: StudyId;
  /** Answers to the questions that led to it, as given. */
  readonly answers: Json;
  readonly runs: readonly PlannedRun[];
  readonly at: Instant;
  readonly by: PersonId;
}

export const makePlan = maker<Plan>('plan', {
  id: anId,
  study: anId,
  answers: () => null,
  runs: listOf(
    record<PlannedRun>({
      name: aName,
      kind: oneOf(RUN_KINDS),
      edition: anId,
      specimen: orNull(anId),
      session: text(1, 60),
      order: number({ from: 1, whole: true }),
      because: aNote,
    }),
    1000,
  ),
  at: anInstant,
  by: anId,
});

/** How a study compares a run with its controls where it departs from the usual, and why. The newest stands. */
export interface ComparisonRules {
  readonly id: Id<'comparison-rules'>;
  readonly study: StudyId;
  readonly tolerances: Tolerances;
  /** Pairs of names that mean one thing here: “bench A” and “bench B”. */
  readonly alike: readonly (readonly string[])[];
  readonly because: string;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeComparisonRules = maker<ComparisonRules>('rules of comparison', {
  id: anId,
  study: anId,
  tolerances: record<Tolerances>({
    uncoveredShare: aFraction,
    uncoveredMinutes: notNegative,
    scaledUpTo: number({ from: 1, to: 10 }),
  }),
  alike: listOf(listOf(text(1, 200), 20), 100),
  because: text(1, 2000, true),
  at: anInstant,
  by: anId,
});
