/** A hand that helps with one photograph: takes tasks until none is left, answers, waits for the next. */
import { parentPort } from 'node:worker_threads';
import { type Ground, type Piece, survey } from '../science/imaging/index.ts';
import { packedPieces } from './answer-parcel.ts';
import { type ErrandOrder, type HandOrder, type SurveyOrder, takeErrands, takeTasks } from './hand-tasks.ts';

let ground: Ground | null = null;

parentPort?.on('message', (order: HandOrder | ErrandOrder | SurveyOrder) => {
  try {
    if ('surveyed' in order) {
      // In memory that all hands can read: its errands are shared out too.
      parentPort?.postMessage({ seen: survey(order.surveyed, (bytes) => new SharedArrayBuffer(bytes)) });
      return;
    }
    if ('errands' in order) {
      parentPort?.postMessage({ done: takeErrands(order) });
      return;
    }
    if (order.ground) ground = order.ground;
    if (!ground) throw new RangeError('a hand was given tasks without the ground they are judged against');
    const done = takeTasks(order, ground);
    if ('regions' in order.task) {
      const parcel = packedPieces(done.map(([, pieces]) => pieces as Piece[]));
      parentPort?.postMessage({ cut: done.map(([i]) => i), parcel }, [parcel.points.buffer]);
    } else parentPort?.postMessage({ done });
  } catch (error) {
    parentPort?.postMessage({ failed: error instanceof Error ? error.message : String(error) });
  }
});
