/** A hand that helps with one photograph: takes tasks until none is left, answers, waits for the next. */
import { parentPort } from 'node:worker_threads';
import { type Ground, survey } from '../science/imaging/index.ts';
import { type HandOrder, type SurveyOrder, takeTasks } from './hand-tasks.ts';

let ground: Ground | null = null;

parentPort?.on('message', (order: HandOrder | SurveyOrder) => {
  try {
    if ('surveyed' in order) {
      const seen = survey(order.surveyed);
      const buffers = [seen.reduced.data, ...seen.samples.flatMap((s) => [s.x, s.y, s.values])];
      parentPort?.postMessage(
        { seen },
        buffers.map((b) => b.buffer as ArrayBuffer),
      );
      return;
    }
    if (order.ground) ground = order.ground;
    if (!ground) throw new RangeError('a hand was given tasks without the ground they are judged against');
    parentPort?.postMessage({ done: takeTasks(order, ground) });
  } catch (error) {
    parentPort?.postMessage({ failed: error instanceof Error ? error.message : String(error) });
  }
});
