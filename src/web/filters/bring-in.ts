import type { QueryClient } from '@tanstack/react-query';
import { useSyncExternalStore } from 'react';
import type { PhotoAdded } from '../../api/index.ts';
import { addressOf, declined, NobodyAnswers } from '../server/ask.ts';
import { isHere, onComeback, setPresence } from '../server/presence.ts';

export type Bringing =
  | { readonly state: 'waiting' }
  | { readonly state: 'sending'; readonly share: number }
  | { readonly state: 'added'; readonly photo: string; readonly known: boolean }
  | { readonly state: 'refused'; readonly sentence: string }
  /** Stopped by a person before the laboratory had it. */
  | { readonly state: 'stopped' };

/** One file on its way in. Each has its own fate: a broken one never holds up the others. */
export interface Incoming {
  readonly key: number;
  readonly study: string;
  readonly filter: string;
  readonly name: string;
  readonly file: File;
  readonly is: Bringing;
}

let files: readonly Incoming[] = [];
let sequence = 0;
let running = 0;
const AT_ONCE = 2;
const listeners = new Set<() => void>();
const set = (next: readonly Incoming[]) => {
  files = next;
  for (const listener of listeners) listener();
};
const change = (key: number, is: Bringing) => set(files.map((f) => (f.key === key ? { ...f, is } : f)));

/** Takes files in for a filter; they are sent two at a time, in order. */
export function bringIn(client: QueryClient, study: string, filter: string, given: readonly File[]): void {
  set([
    ...files,
    ...given.map((file) => {
      sequence += 1;
      return { key: sequence, study, filter, name: file.name, file, is: { state: 'waiting' } as const };
    }),
  ]);
  work(client);
}

const requests = new Map<number, XMLHttpRequest>();

/** Stops what has not arrived yet: files that wait, and those on their way. What is in stays in. */
export function stopBringing(filter: string): void {
  for (const one of files) {
    if (one.filter !== filter || (one.is.state !== 'waiting' && one.is.state !== 'sending')) continue;
    change(one.key, { state: 'stopped' });
    requests.get(one.key)?.abort();
  }
}

/** Sends the stopped files after all. */
export function bringAfterAll(client: QueryClient, filter: string): void {
  for (const one of files) {
    if (one.filter === filter && one.is.state === 'stopped') change(one.key, { state: 'waiting' });
  }
  work(client);
}

/** Puts away the files of a filter whose fate is known. */
export const putAway = (filter: string): void =>
  set(files.filter((f) => f.filter !== filter || f.is.state === 'waiting' || f.is.state === 'sending'));

export function useBringing(filter: string): readonly Incoming[] {
  const all = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => files,
  );
  return all.filter((f) => f.filter === filter);
}

function work(client: QueryClient): void {
  while (running < AT_ONCE) {
    const next = files.find((f) => f.is.state === 'waiting');
    if (next === undefined || !isHere()) break;
    running += 1;
    change(next.key, { state: 'sending', share: 0 });
    void send(next)
      .then((answer) => {
        setPresence(true);
        change(next.key, { state: 'added', photo: answer.photo.id, known: answer.known });
        void client.invalidateQueries({ queryKey: ['study', next.study] });
      })
      .catch((error: Error) => {
        if (error instanceof Stopped) return;
        if (error instanceof NobodyAnswers) {
          change(next.key, { state: 'waiting' });
          setPresence(false);
          const forget = onComeback(() => {
            forget();
            work(client);
          });
        } else {
          change(next.key, { state: 'refused', sentence: error.message });
        }
      })
      .finally(() => {
        running -= 1;
        work(client);
      });
  }
}

class Stopped extends Error {}

/** A PUT of the file itself; XMLHttpRequest, because fetch does not tell how far it is. */
function send(one: Incoming): Promise<PhotoAdded> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open(
      'PUT',
      `${addressOf('addPhoto', { filter: one.filter })}?name=${encodeURIComponent(one.name.slice(0, 1000) || 'photograph')}`,
    );
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.responseType = 'json';
    request.upload.onprogress = (event) => {
      if (event.lengthComputable)
        change(one.key, { state: 'sending', share: event.loaded / (event.total || 1) });
    };
    requests.set(one.key, request);
    request.onloadend = () => requests.delete(one.key);
    request.onabort = () => reject(new Stopped());
    request.onload = () => {
      if (request.status >= 200 && request.status < 300 && request.response) {
        resolve(request.response as PhotoAdded);
      } else reject(declined(request.status, request.response));
    };
    request.onerror = () => reject(new NobodyAnswers());
    request.send(one.file);
  });
}
