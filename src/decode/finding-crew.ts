import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { done, type Outcome } from '../units/index.ts';
import { type Parcel, unpacked } from './answer-parcel.ts';
import type { PhotoRefusal } from './photo-refusal.ts';
import { refusePhoto } from './photo-refusal.ts';
import type { Searched, SearchOrder } from './search-photo.ts';
import { startWorker } from './start-worker.ts';
import { clearLeavings } from './working-copies.ts';

/** Searches photographs on all cores, away from the caller's thread. */
export interface FindingCrew {
  readonly members: number;
  /**
   * Searches one photograph when a member is free; orders are taken in turn. A member that dies costs this one photograph
   * (`finder-failed`) and is replaced. `signal` stops it, whether waiting or at work (`stopped`).
   */
  search(
    order: SearchOrder,
    progress?: (share: number) => void,
    signal?: AbortSignal,
  ): Promise<Outcome<Searched, PhotoRefusal>>;
  /** Stops everything; what was under way or waiting is answered with `stopped`. */
  close(): Promise<void>;
}

interface Job {
  readonly order: SearchOrder;
  readonly progress: (share: number) => void;
  readonly signal: AbortSignal | undefined;
  readonly answer: (outcome: Outcome<Searched, PhotoRefusal>) => void;
}

type Told =
  | { readonly share: number }
  | { readonly outcome: Outcome<Searched, PhotoRefusal> }
  | { readonly parcel: Parcel }
  | { readonly failed: string };

/** @param start makes one member; tests hand in one that dies. */
export function findingCrew(
  members = availableParallelism(),
  start: () => Worker = () => startWorker('crew-worker'),
): FindingCrew {
  if (!Number.isSafeInteger(members) || members < 1) {
    throw new RangeError(`members of the crew: a whole number from 1 is needed, given ${members}`);
  }
  const waiting: Job[] = [];
  const idle: Worker[] = [];
  const busy = new Set<Worker>();
  let closed = false;

  const next = (): void => {
    while (waiting.length > 0 && busy.size < members) {
      const job = waiting.shift()!;
      if (job.signal?.aborted) job.answer(refusePhoto('stopped', job.order.name));
      else give(job, idle.pop() ?? start());
    }
  };

  /** Ends a member, and clears the working copy that it may have been reading. */
  const end = async (member: Worker, workFolder?: string): Promise<void> => {
    const { threadId } = member;
    await member.terminate();
    await clearLeavings(threadId, workFolder).catch(() => {});
  };

  const give = (job: Job, member: Worker): void => {
    busy.add(member);
    const finish = (outcome: Outcome<Searched, PhotoRefusal>, alive: boolean): void => {
      if (!busy.delete(member)) return;
      // By name: a bare call would also take Node's own listeners, and the member would never be heard again.
      for (const event of ['message', 'error', 'exit']) member.removeAllListeners(event);
      job.signal?.removeEventListener('abort', stop);
      if (alive && !closed) idle.push(member);
      else void end(member, job.order.workFolder);
      job.answer(outcome);
      next();
    };
    const fail = (why: string): void => finish(refusePhoto('finder-failed', job.order.name, why), false);
    const stop = (): void => finish(refusePhoto('stopped', job.order.name), false);
    member.on('message', (told: Told) => {
      if ('share' in told) job.progress(told.share);
      else if ('parcel' in told) finish(done(unpacked(told.parcel)), true);
      else if ('outcome' in told) finish(told.outcome, true);
      else finish(refusePhoto('finder-failed', job.order.name, told.failed), true);
    });
    member.on('error', (error) => fail(error.message));
    member.on('exit', (code) => fail(`the search ended with status ${code}`));
    job.signal?.addEventListener('abort', stop, { once: true });
    stops.set(member, stop);
    // Alone at work, a member takes all cores for its photograph; beside others, its own.
    const alone = busy.size === 1 && waiting.length === 0;
    member.postMessage({ ...job.order, hands: alone ? members : 1 });
  };
  const stops = new WeakMap<Worker, () => void>();

  return {
    members,
    search: (order, progress = () => {}, signal) =>
      new Promise((answer) => {
        if (closed) return answer(refusePhoto('stopped', order.name));
        waiting.push({ order, progress, signal, answer });
        // A moment later, so that photographs handed in together are seen together.
        queueMicrotask(next);
      }),
    async close() {
      closed = true;
      for (const job of waiting.splice(0)) job.answer(refusePhoto('stopped', job.order.name));
      for (const member of [...busy]) stops.get(member)?.();
      await Promise.all(idle.splice(0).map((member) => member.terminate()));
    },
  };
}
