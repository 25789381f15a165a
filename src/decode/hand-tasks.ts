import { doTask, type Ground, type Picture, type Task } from '../science/imaging/index.ts';

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

/** A hand may also be sent a picture in shared memory, and gives back its survey. */
export interface SurveyOrder {
  readonly surveyed: Picture;
}

export type TaskDone = readonly [index: number, answer: ReturnType<typeof doTask>];

/** Takes one task after another, as long as some are left that no hand has taken. */
export function takeTasks({ rows, task, order, taken }: HandOrder, ground: Ground): TaskDone[] {
  const done: TaskDone[] = [];
  for (let k = Atomics.add(taken, 0, 1); k < order.length; k = Atomics.add(taken, 0, 1)) {
    const i = order[k]!;
    done.push([i, doTask(task, i, rows, ground)]);
  }
  return done;
}
