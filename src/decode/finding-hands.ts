import type { Worker } from 'node:worker_threads';
import {
  type Ground,
  type Hands,
  type Picture,
  type Survey,
  survey,
  type Task,
} from '../science/imaging/index.ts';
import { type PieceParcel, unpackedPieces } from './answer-parcel.ts';
import {
  type Done,
  type ErrandOrder,
  type HandOrder,
  type SurveyOrder,
  type TaskDone,
  takeErrands,
  takeTasks,
} from './hand-tasks.ts';
import { startWorker } from './start-worker.ts';

/** Hands on several cores for one photograph; the caller's thread is one of them. */
export interface FindingHands extends Hands {
  /** Ends the threads. */
  close(): Promise<void>;
}

type Answer =
  | { readonly done: readonly Done<unknown>[] }
  | { readonly cut: readonly number[]; readonly parcel: PieceParcel }
  | { readonly seen: Survey };
type Told = Answer | { readonly failed: string };

/** @param helpers threads besides the caller's own. */
export function findingHands(helpers: number): FindingHands {
  if (!Number.isSafeInteger(helpers) || helpers < 0) {
    throw new RangeError(`hands: a whole number of helpers from 0 is needed, given ${helpers}`);
  }
  const workers = Array.from({ length: helpers }, () => startWorker('hand-worker'));
  // Waiting hands alone keep no process alive.
  for (const worker of workers) worker.unref();
  let known: Ground | null = null;

  /** Answers in the order of the work, by all workers that were asked and the caller's own share. */
  const gathered = async <T>(
    count: number,
    others: readonly Promise<Answer>[],
    own: () => readonly Done<T>[],
  ): Promise<T[]> => {
    const answers: T[] = new Array(count);
    const keep = (done: readonly Done<T>[]) => {
      for (const [i, answer] of done) answers[i] = answer;
    };
    const told = Promise.all(others);
    // A hand that fails is told of below, after the caller's own share.
    told.catch(() => {});
    keep(own());
    for (const answer of await told) keep(doneIn(answer) as readonly Done<T>[]);
    return answers;
  };

  const share = (
    rows: HandOrder['rows'],
    ground: Ground,
    task: Task,
    order: Int32Array,
  ): Promise<TaskDone[1][]> => {
    const said: HandOrder = { rows, task, order, taken: counter(), ground: ground === known ? null : ground };
    known = ground;
    const others = order.length > 1 ? workers.map((worker) => ask(worker, said)) : [];
    if (others.length === 0) known = null;
    return gathered(order.length, others, () => takeTasks(said, ground));
  };

  return {
    async survey(picture) {
      const [other] = workers;
      // What doesn't lie in shared memory would have to be copied.
      if (!other || picture.data.buffer instanceof ArrayBuffer) return survey(picture);
      const told = await ask(other, { surveyed: picture });
      if (!('seen' in told)) throw new Error('a hand asked for a survey gave something else');
      return told.seen;
    },
    errands(errands) {
      const said: ErrandOrder = { errands, taken: counter() };
      const others = errands.length > 1 ? workers.map((worker) => ask(worker, said)) : [];
      return gathered(errands.length, others, () => takeErrands(said));
    },
    room: (bytes) => (helpers > 0 ? new SharedArrayBuffer(bytes) : new ArrayBuffer(bytes)),
    async tiles(rows, ground, tiles) {
      const order = Int32Array.from(tiles.keys());
      return (await share(rows, ground, { tiles }, order)) as Awaited<ReturnType<Hands['tiles']>>;
    },
    async cut(rows, ground, regions) {
      const size = regions.map((r) => (r.x1 - r.x0) * (r.y1 - r.y0));
      const order = Int32Array.from(regions.keys()).sort((p, q) => size[q]! - size[p]! || p - q);
      return (await share(rows, ground, { regions }, order)) as Awaited<ReturnType<Hands['cut']>>;
    },
    async close() {
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}

function doneIn(answer: Answer): readonly Done<unknown>[] {
  if ('done' in answer) return answer.done;
  if (!('cut' in answer)) throw new Error('a hand asked for tasks gave something else');
  const regions = unpackedPieces(answer.parcel);
  return answer.cut.map((i, k) => [i, regions[k]]);
}

/** How many tasks have been taken, told to all hands. */
const counter = (): Int32Array => new Int32Array(new SharedArrayBuffer(4));

function ask(worker: Worker, order: HandOrder | ErrandOrder | SurveyOrder): Promise<Answer> {
  return new Promise((answer, fail) => {
    const settle = (then: () => void): void => {
      for (const event of ['message', 'error', 'exit']) worker.removeAllListeners(event);
      worker.unref();
      then();
    };
    worker.ref();
    worker.on('message', (told: Told) =>
      settle(() => ('failed' in told ? fail(new Error(told.failed)) : answer(told))),
    );
    worker.on('error', (error) => settle(() => fail(error)));
    worker.on('exit', (code) => settle(() => fail(new Error(`a hand ended with status ${code}`))));
    worker.postMessage(order);
  });
}

/** The picture in memory that all hands can read. */
export function within(hands: Hands, picture: Picture): Picture {
  const room = hands.room(picture.data.byteLength);
  if (room instanceof ArrayBuffer) return picture;
  const data = picture.data instanceof Uint16Array ? new Uint16Array(room) : new Uint8Array(room);
  data.set(picture.data);
  return { ...picture, data };
}
