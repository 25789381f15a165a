import { dry, filter, photograph, score, uncover } from './filter-and-look.ts';
import { cut, handle, move, rinse, store, wash, weigh } from './handling.ts';
import { decant, digest, dilute, float, settle, shake, sieve, soak } from './liquids.ts';
import type { KnownStepKind, StepKind } from './step-kind.ts';

export { CAUSES, type Cause, MAKES, type StepKind, type StepQuantity, type Touched } from './step-kind.ts';

/** The one list: a new kind of step is a declaration and a line here. */
export const STEP_KINDS: readonly KnownStepKind[] = [
  weigh,
  rinse,
  cut,
  handle,
  wash,
  move,
  soak,
  shake,
  digest,
  settle,
  decant,
  float,
  dilute,
  sieve,
  filter,
  dry,
  photograph,
  score,
  uncover,
  store,
];

/** The kind of a step: a known one, or the laboratory's own, which the step carries with it so that it is read the same anywhere. */
export const kindOf = (step: {
  readonly kind: string;
  readonly own?: StepKind | null | undefined;
}): StepKind | undefined => stepKind(step.kind) ?? step.own ?? undefined;

const BY_NAME = new Map(STEP_KINDS.map((kind) => [kind.kind, kind]));
export const stepKind = (kind: string): KnownStepKind | undefined => BY_NAME.get(kind);
