import { useSyncExternalStore } from 'react';
import type { MarkAnswer, MarkWish } from '../../api/index.ts';
import { ask, Declined } from './ask.ts';
import { isHere, onComeback, setPresence } from './presence.ts';

/** A mark made on this page that the server has not acknowledged yet. */
export interface Waiting {
  readonly key: string;
  readonly study: string;
  readonly photo: string;
  readonly wish: MarkWish;
}

interface Teller {
  readonly acknowledged: (waiting: Waiting, answer: MarkAnswer) => void;
  readonly declined: (waiting: Waiting, sentence: string) => void;
}

/**
 * Marks leave in the order they were made, one at a time, and stay here (and in this browser's own store) until the
 * server has acknowledged them: a server that stops, or a page that is loaded again, loses none.
 */
const STORE = 'retentate/marks-waiting/1';
let waiting: readonly Waiting[] = stored();
let sending: Waiting | null = null;
let teller: Teller = { acknowledged: () => {}, declined: () => {} };
let sequence = 0;
const listeners = new Set<() => void>();

function stored(): readonly Waiting[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(STORE) ?? '[]');
    return Array.isArray(kept) ? kept.filter(isWaiting) : [];
  } catch {
    return [];
  }
}

const isWaiting = (given: unknown): given is Waiting => {
  const w = given as Partial<Waiting> | null;
  return typeof w?.key === 'string' && typeof w.photo === 'string' && typeof w.wish?.deed === 'string';
};

function set(next: readonly Waiting[]): void {
  waiting = next;
  try {
    localStorage.setItem(STORE, JSON.stringify(next));
  } catch {
    // A browser that refuses its store still sends from memory.
  }
  for (const listener of listeners) listener();
}

export function onOutbox(tell: Teller): void {
  teller = tell;
  void send();
}
onComeback(() => void send());

/** Takes a mark in; it shows at once and is sent as soon as the server answers. */
export function post(study: string, photo: string, wish: MarkWish): void {
  sequence += 1;
  set([...waiting, { key: `${Date.now()}-${sequence}`, study, photo, wish }]);
  void send();
}

/** Takes back the last mark that has not left yet; false when none waits. */
export function takeBack(): boolean {
  const last = waiting[waiting.length - 1];
  if (last === undefined || last === sending) return false;
  set(waiting.slice(0, -1));
  return true;
}

/** Resolves when nothing waits any more, or when the server is away. */
export async function emptied(): Promise<boolean> {
  while (waiting.length > 0) {
    if (!isHere()) return false;
    await send();
    await new Promise((resume) => setTimeout(resume, 20));
  }
  return true;
}

async function send(): Promise<void> {
  if (sending !== null) return;
  while (waiting.length > 0) {
    const first = waiting[0]!;
    sending = first;
    try {
      const answer = await ask('mark', { photo: first.photo }, first.wish);
      setPresence(true);
      set(waiting.filter((w) => w.key !== first.key));
      teller.acknowledged(first, answer);
    } catch (error) {
      // Nobody is signed in any more: the mark waits until somebody is.
      if (!(error instanceof Declined) || error.status >= 500 || error.status === 401) {
        if (!(error instanceof Declined)) setPresence(false);
        else setTimeout(() => void send(), 2000);
        break;
      }
      set(waiting.filter((w) => w.key !== first.key));
      teller.declined(first, error.message);
    } finally {
      sending = null;
    }
  }
}

export const useOutbox = (): readonly Waiting[] =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => waiting,
  );
