import {
  doErrand,
  doTask,
  type Errand,
  type Ground,
  type Picture,
  type Task,
} from '../science/imaging/index.ts';

/** What a hand is sent. The rows lie in shared memory, so only their place travels. */
export interface HandOrder {
  readonly rows: { readonly picture: Picture; readonly top: number };
  readonly task: Task;
  /** In which order the tasks are taken: the heaviest first, so that no hand is left with one at the end. */
  readonly order: Int32Array;
  /** How many have been taken, for all hands. */
  readonly taken: Int32Array;
  /** Left out when it is that of the order before. */
  readonly ground: Ground | null;
}

/** A hand may also be sent errands, of which all hands take one after another. */
export interface ErrandOrder {
  readonly errands: readonly Errand[];
  readonly taken: Int32Array;
}

/** Or a picture in shared memory, and gives back its survey. */
export interface SurveyOrder {
  readonly surveyed: Picture;
}

export type Done<T> = readonly [index: number, answer: T];
export type TaskDone = Done<ReturnType<typeof doTask>>;

/** Takes one task after another, as long as some are left that no hand has taken. */
export const takeTasks = ({ rows, task, order, taken }: HandOrder, ground: Ground): TaskDone[] =>
  take(taken, order.length, (k) => [order[k]!, doTask(task, order[k]!, rows, ground)]);

/** Takes one errand after another in the same way. */
export const takeErrands = ({ errands, taken }: ErrandOrder): Done<unknown>[] =>
  take(taken, errands.length, (k) => [k, doErrand(errands[k]!)]);

function take<T>(taken: Int32Array, count: number, one: (k: number) => T): T[] {
  const done: T[] = [];
  for (let k = Atomics.add(taken, 0, 1); k < count; k = Atomics.add(taken, 0, 1)) done.push(one(k));
  return done;
}
