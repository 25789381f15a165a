/** Work of minutes on a study's controls: begun, followed and stopped over HTTP. One of its kind at a time on a server. */
import { type Outcome, type Refusal, refused } from '../units/index.ts';
import type { Served } from './served.ts';

/** What is under way on this server, and why the last one of a study ended without a result. */
export interface WorkDesk {
  underWay: { readonly study: string; stop(): void; done: number; of: number } | null;
  readonly trouble: Map<string, Refusal>;
}

export const workDesk = (): WorkDesk => ({ underWay: null, trouble: new Map() });

/** What work tells while it goes on, and what ends it. */
export interface Telling {
  readonly told: (done: number, of: number) => void;
  readonly stopped: Promise<void>;
}

/** Begins work and goes on without waiting for it; gives the refusal where some is under way. */
export function beginWork(
  { log }: Pick<Served, 'log'>,
  desk: WorkDesk,
  study: string,
  words: { readonly what: string; readonly busy: string; readonly failed: string },
  work: (telling: Telling) => Promise<Outcome<unknown>>,
): Outcome<never> | null {
  if (desk.underWay) return refused({ why: 'under-way', message: words.busy });
  let stop = (): void => {};
  const stopped = new Promise<void>((resolve) => {
    stop = resolve;
  });
  const underWay = { study, stop, done: 0, of: 0 };
  desk.underWay = underWay;
  desk.trouble.delete(study);
  void work({ told: (amount, of) => Object.assign(underWay, { done: amount, of }), stopped })
    .then((ended) => {
      if (!ended.ok) desk.trouble.set(study, ended.refusal);
    })
    .catch((failure: unknown) => {
      log(`${words.what} of ${study}: ${failure instanceof Error ? failure.message : String(failure)}`);
      desk.trouble.set(study, { why: 'failed', message: words.failed });
    })
    .finally(() => {
      desk.underWay = null;
    });
  return null;
}

/** Stops what is under way for a study; that of another goes on. */
export function stopWork(desk: WorkDesk, study: string): void {
  if (desk.underWay?.study === study) desk.underWay.stop();
}

/** How the work of a study stands, as it travels. */
export function workState({ underWay, trouble }: WorkDesk, study: string) {
  const mine = underWay?.study === study ? underWay : null;
  const refusal = trouble.get(study) ?? null;
  return {
    under_way: mine && { done: mine.done, of: mine.of },
    busy_elsewhere: underWay !== null && mine === null,
    refusal: refusal && { why: refusal.why, message: refusal.message },
  };
}
