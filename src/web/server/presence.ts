import { useSyncExternalStore } from 'react';

/** Whether the laboratory's program answers; one value for the whole page. */
let here = true;
const listeners = new Set<() => void>();
const comebacks = new Set<() => void>();

/** Told by whoever just heard from the server, or failed to. */
export function setPresence(answers: boolean): void {
  if (here === answers) return;
  here = answers;
  for (const listener of listeners) listener();
  if (answers) for (const comeback of comebacks) comeback();
}

export const isHere = (): boolean => here;

/** Runs when the server is back; gives the way to stop listening. */
export function onComeback(run: () => void): () => void {
  comebacks.add(run);
  return () => comebacks.delete(run);
}

export const usePresence = (): boolean =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => here,
  );
