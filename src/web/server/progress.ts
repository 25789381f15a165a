import type { QueryClient } from '@tanstack/react-query';
import { useSyncExternalStore } from 'react';
import type { ProgressEvent } from '../../api/index.ts';
import { addressOf } from './ask.ts';
import { onComeback, setPresence } from './presence.ts';

type PhotoProgress = Extract<ProgressEvent, { what: 'photo' }>;
type Queue = { readonly waiting: number; readonly searching: number };

let photos: ReadonlyMap<string, PhotoProgress> = new Map();
let queue: Queue = { waiting: 0, searching: 0 };
const listeners = new Set<() => void>();
const tell = () => {
  for (const listener of listeners) listener();
};
const subscribe = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** How far the search of a photo is; undefined while nothing is known to run. */
export const usePhotoProgress = (photo: string): PhotoProgress | undefined =>
  useSyncExternalStore(subscribe, () => photos.get(photo));
export const useQueue = (): Queue => useSyncExternalStore(subscribe, () => queue);

/**
 * Listens for progress as long as the page lives. Finished photos and marks of others refresh what is shown; a stream
 * that breaks says that the server is away, and one that opens again brings everything up to date.
 */
export function listenForProgress(client: QueryClient): () => void {
  let source: EventSource | null = null;
  let retry: ReturnType<typeof setTimeout> | undefined;
  let ended = false;
  const open = () => {
    source = new EventSource(addressOf('progress'));
    source.onopen = () => setPresence(true);
    source.addEventListener('progress', (event) => heard(JSON.parse(event.data) as ProgressEvent, client));
    source.onerror = () => {
      // A stream that was answered and declined (an unpaired telephone) is closed at once: somebody is there.
      if (source?.readyState !== EventSource.CLOSED) setPresence(false);
      if (source?.readyState === EventSource.CLOSED && !ended) {
        clearTimeout(retry);
        retry = setTimeout(open, 1500);
      }
    };
  };
  open();
  const forget = onComeback(() => void client.invalidateQueries());
  return () => {
    ended = true;
    clearTimeout(retry);
    source?.close();
    forget();
  };
}

function heard(event: ProgressEvent, client: QueryClient): void {
  if (event.what === 'queue') {
    queue = { waiting: event.waiting, searching: event.searching };
    tell();
    return;
  }
  if (event.what === 'marks') {
    refresh(client, event.study, event.photo);
    return;
  }
  const next = new Map(photos);
  next.set(event.photo, event);
  photos = next;
  tell();
  if (event.state === 'searched' || event.state === 'refused') refresh(client, event.study, event.photo);
}

const REST_MS = 120;
const stale = { studies: new Set<string>(), photos: new Set<string>() };
let due: ReturnType<typeof setTimeout> | undefined;

/** Reads anew everything that follows from the particles of one photo; marks in quick succession are gathered. */
export function refresh(client: QueryClient, study: string, photo: string): void {
  stale.studies.add(study);
  stale.photos.add(photo);
  if (due !== undefined) return;
  due = setTimeout(() => {
    due = undefined;
    for (const one of stale.studies) void client.invalidateQueries({ queryKey: ['study', one] });
    for (const one of stale.photos) void client.invalidateQueries({ queryKey: ['particles', one] });
    stale.studies.clear();
    stale.photos.clear();
  }, REST_MS);
}
