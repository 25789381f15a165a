/** Works plans out apart from the server, one after the other. */
import { parentPort } from 'node:worker_threads';
import { type PlanAsked, planReport } from '../study/index.ts';

parentPort?.on('message', ({ key, wish }: { key: number; wish: PlanAsked }) => {
  try {
    parentPort?.postMessage({ key, outcome: planReport(wish) });
  } catch (failure) {
    parentPort?.postMessage({ key, failed: failure instanceof Error ? failure.message : String(failure) });
  }
});
