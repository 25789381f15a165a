import { useSyncExternalStore } from 'react';
import { freshId } from '../bench/device-store.ts';
import { ask, Declined } from '../server/ask.ts';
import { onComeback } from '../server/presence.ts';
import { heard } from '../server/queries.ts';

export type Called = 'plastic' | 'other' | 'cannot-tell';
export type DrillDeed =
  | { readonly do: 'call'; readonly id: string; readonly piece: string; readonly called: Called }
  | { readonly do: 'undo'; readonly id: string };

/** A drill under way on this device: its order, and what was done, of which the laboratory has the first `sent`. */
export interface Drill {
  readonly study: string;
  readonly set: string;
  readonly test: string;
  readonly order: readonly string[];
  readonly deeds: readonly DrillDeed[];
  readonly sent: number;
  /** Why the laboratory would not keep the next deed; null: nothing stands in the way. */
  readonly problem: string | null;
}

/** The answers that stand, oldest first. */
export function callsOf({ deeds }: Pick<Drill, 'deeds'>): readonly (DrillDeed & { readonly do: 'call' })[] {
  const undone = new Set(deeds.flatMap((deed) => (deed.do === 'undo' ? [deed.id] : [])));
  return deeds.filter((deed) => deed.do === 'call' && !undone.has(deed.id)) as (DrillDeed & { do: 'call' })[];
}

/** Every answer is kept in the browser before it counts as given: a page that is loaded again goes on from there. */
const STORE = 'retentate/drills/1';
let drills: Readonly<Record<string, Drill>> = stored();
const listeners = new Set<() => void>();
const sending = new Set<string>();

function stored(): Readonly<Record<string, Drill>> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(STORE) ?? '{}');
    return typeof kept === 'object' && kept !== null ? (kept as Record<string, Drill>) : {};
  } catch {
    return {};
  }
}

function put(key: string, drill: Drill | null): void {
  const { [key]: _, ...others } = drills;
  drills = drill === null ? others : { ...others, [key]: drill };
  try {
    localStorage.setItem(STORE, JSON.stringify(drills));
  } catch {
    // A browser that refuses its store still sends from memory.
  }
  for (const listener of listeners) listener();
}

onComeback(() => {
  for (const key of Object.keys(drills)) void send(key);
});

/** A drill is one person's on one set. */
export const drillKey = (set: string, person: string | null): string => `${set} ${person ?? ''}`;

export function beginDrill(key: string, drill: Pick<Drill, 'study' | 'set' | 'test' | 'order'>): void {
  put(key, { ...drill, deeds: [], sent: 0, problem: null });
}

export function call(key: string, piece: string, called: Called): void {
  add(key, { do: 'call', id: freshId(), piece, called });
}

/** Takes the last answer back: where the laboratory has it, by a further record. */
export function back(key: string): void {
  const last = drills[key] && callsOf(drills[key]).at(-1);
  if (last) add(key, { do: 'undo', id: last.id });
}

function add(key: string, deed: DrillDeed): void {
  const drill = drills[key];
  if (!drill) return;
  put(key, { ...drill, deeds: [...drill.deeds, deed], problem: null });
  void send(key);
}

/** Puts the drill aside; false while the laboratory does not have all of it. */
export function endDrill(key: string): boolean {
  const drill = drills[key];
  if (drill && drill.sent < drill.deeds.length) {
    void send(key);
    return false;
  }
  put(key, null);
  return true;
}

/** Sends in order, one at a time. Sent twice is kept once: an answer bears its name from here. */
export async function send(key: string): Promise<void> {
  if (sending.has(key)) return;
  sending.add(key);
  try {
    for (let drill = drills[key]; drill && drill.sent < drill.deeds.length; drill = drills[key]) {
      await heard(deliver(drill, drill.deeds[drill.sent]!));
      const now = drills[key];
      if (now) put(key, { ...now, sent: now.sent + 1, problem: null });
    }
  } catch (error) {
    const now = drills[key];
    if (now && error instanceof Declined) put(key, { ...now, problem: error.message });
  } finally {
    sending.delete(key);
  }
}

async function deliver({ study, set, test }: Drill, deed: DrillDeed): Promise<void> {
  if (deed.do === 'call') {
    const { id, piece, called } = deed;
    await ask('answerDrill', { set }, { test, answers: [{ id, piece, called }] });
    return;
  }
  try {
    await ask('undoEvidence', { study }, { undoes: deed.id });
  } catch (error) {
    // It arrived before, and only its acknowledgement was lost.
    if (!(error instanceof Declined) || error.why !== 'nothing-to-undo') throw error;
  }
}

export const useDrill = (key: string): Drill | null =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => drills[key] ?? null,
  );
