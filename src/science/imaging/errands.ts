/**
 * Parts of one work that do not wait for each other: each is done from plain data alone, so any hand may do it and gives
 * the same answer. A work is written once, as steps that ask for errands; who does them is settled by whoever runs it.
 */
import { cellMedians, smoothMedians } from './background.ts';
import { noiseOfLevel } from './local-noise.ts';
import { gatesOf } from './scale/gates.ts';

const DOERS = { gatesOf, cellMedians, smoothMedians, noiseOfLevel };

type Doers = typeof DOERS;

export interface ErrandOf<K extends keyof Doers> {
  readonly what: K;
  readonly given: Parameters<Doers[K]>;
}
export type Errand = { [K in keyof Doers]: ErrandOf<K> }[keyof Doers];
type AnswerTo<E> = E extends ErrandOf<infer K> ? ReturnType<Doers[K]> : never;

export const errand = <K extends keyof Doers>(what: K, ...given: Parameters<Doers[K]>): ErrandOf<K> => ({
  what,
  given,
});

export const doErrand = ({ what, given }: Errand): unknown =>
  (DOERS[what] as (...given: readonly unknown[]) => unknown)(...given);

/** A work that ends in a T. */
export type Steps<T> = Generator<readonly Errand[], T, readonly unknown[]>;

/** The answers to errands, in their order. */
export function* answersTo<const E extends readonly Errand[]>(
  ...errands: E
): Steps<{ -readonly [I in keyof E]: AnswerTo<E[I]> }> {
  return (yield errands) as { -readonly [I in keyof E]: AnswerTo<E[I]> };
}

/** The work done by the caller alone: the reference. */
export function doneAlone<T>(steps: Steps<T>): T {
  let step = steps.next();
  while (!step.done) step = steps.next(step.value.map(doErrand));
  return step.value;
}
