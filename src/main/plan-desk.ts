/**
 * Plans are tried on hundreds of virtual studies, most of a second of one core. They are worked out beside the server, so that
 * nobody's mark waits for them, and the same question is answered once.
 */
import type { Worker } from 'node:worker_threads';
import { startWorker } from '../decode/index.ts';
import type { Planner } from '../server/index.ts';
import type { PlanAsked, PlanReport } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';

type Planned = Outcome<PlanReport>;
interface Waiting {
  readonly resolve: (planned: Planned) => void;
  readonly reject: (failure: Error) => void;
}

/** So many answers are remembered; each is a few kB. */
const REMEMBERED = 200;

export function planDesk(start: () => Worker = () => startWorker('plan-worker', import.meta.url)): Planner {
  let worker: Worker | null = null;
  let asked = 0;
  const waiting = new Map<number, Waiting>();
  const known = new Map<string, Promise<Planned>>();

  const fail = (gone: Worker, message: string): void => {
    if (worker !== gone) return;
    worker = null;
    for (const { reject } of waiting.values()) reject(new Error(message));
    waiting.clear();
  };
  const running = (): Worker => {
    if (worker) return worker;
    const started = start();
    started.on('message', (told: { key: number; outcome?: Planned; failed?: string }) => {
      const one = waiting.get(told.key);
      waiting.delete(told.key);
      if (told.outcome) one?.resolve(told.outcome);
      else one?.reject(new Error(`The plan could not be worked out: ${told.failed ?? 'no reason given'}`));
    });
    started.on('error', (failure) => fail(started, failure.message));
    started.on('exit', () => fail(started, 'The planning stopped.'));
    // It keeps no process alive: the server does. After the listeners, for listening to a worker holds the process anew.
    started.unref();
    worker = started;
    return started;
  };
  const work = (wish: PlanAsked): Promise<Planned> =>
    new Promise((resolve, reject) => {
      asked += 1;
      waiting.set(asked, { resolve, reject });
      running().postMessage({ key: asked, wish });
    });

  return (wish) => {
    const key = JSON.stringify(wish);
    const before = known.get(key);
    if (before) return before;
    const planned = work(wish);
    known.set(key, planned);
    if (known.size > REMEMBERED) known.delete(known.keys().next().value!);
    // What failed is tried anew when it is asked again.
    planned.catch(() => known.delete(key));
    return planned;
  };
}
