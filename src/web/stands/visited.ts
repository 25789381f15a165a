import { useSyncExternalStore } from 'react';
import type { Where } from '../app/where.ts';

/** Which pages this browser has seen, for the first steps alone; a browser that keeps nothing shows them all anew. */
const STORE = 'retentate/first-steps/1';
type Seen = Where['page'] | 'left';
const listeners = new Set<() => void>();
let seen: ReadonlySet<Seen> = stored();

function stored(): ReadonlySet<Seen> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(STORE) ?? '[]');
    return new Set(Array.isArray(kept) ? (kept as Seen[]) : []);
  } catch {
    return new Set();
  }
}

function add(one: Seen): void {
  if (seen.has(one)) return;
  seen = new Set([...seen, one]);
  try {
    localStorage.setItem(STORE, JSON.stringify([...seen]));
  } catch {
    // Kept in memory then.
  }
  for (const listener of listeners) listener();
}

export const visit = (page: Where['page']): void => add(page);
export const leaveSteps = (): void => add('left');

export const useVisited = (): ReadonlySet<Seen> =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => seen,
  );
