import { useSyncExternalStore } from 'react';

/** Who works on this page: each request says it, and the records carry it. */
const STORE = 'retentate/working/1';
const listeners = new Set<() => void>();

function stored(): string | null {
  try {
    return localStorage.getItem(STORE);
  } catch {
    return null;
  }
}
let working: string | null = stored();

export function workAs(person: string): void {
  working = person;
  try {
    localStorage.setItem(STORE, person);
  } catch {
    // A browser that refuses its store still knows it until the page is closed.
  }
  for (const listener of listeners) listener();
}

export const workingHeader = (): Readonly<Record<string, string>> =>
  working === null ? {} : { 'x-working': working };

export const useWorking = (): string | null =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => working,
  );
