import { findOnPhoto, STOPPED, troubleOf } from '../actions/index.ts';
import type { ProgressEvent } from '../api/index.ts';
import type { Photo, StudyId } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';
import { photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';

/** Photos that wait to be searched or are being searched, and who wants to hear of it. */
export interface PhotoQueue {
  add(photo: Photo): void;
  /** Takes up every photo that has no finding yet: what a stop left undone. */
  resume(): Promise<void>;
  /** Stops what waits of these photos and was not begun; how many. Added again they are searched after all. */
  stop(photos: readonly Photo[], study: StudyId): Promise<number>;
  state(photo: string): 'waiting' | 'searching' | null;
  /** Why the last search of a photo ended without a finding; null where it did not. */
  refusal(photo: string): Refusal | null;
  readonly load: { readonly waiting: number; readonly searching: number };
  listen(hear: (event: ProgressEvent) => void): () => void;
  tell(event: ProgressEvent): void;
  /** Resolves when nothing waits and nothing is under way. */
  settled(): Promise<void>;
  close(): void;
}

/** As many as the crew's cores keep busy, and a few more so that reading and writing overlap with searching. */
const AT_ONCE = 4;

export function photoQueue(served: Served): PhotoQueue {
  const waiting: Photo[] = [];
  const searching = new Map<string, Photo>();
  const refusals = new Map<string, Refusal>();
  const listeners = new Set<(event: ProgressEvent) => void>();
  const idle = new Set<() => void>();
  let closed = false;

  const tell = (event: ProgressEvent): void => {
    for (const hear of listeners) hear(event);
  };
  const load = () => ({ waiting: waiting.length, searching: searching.size });
  const tellLoad = (): void => tell({ what: 'queue', ...load() });

  const next = (): void => {
    while (!closed && waiting.length > 0 && searching.size < AT_ONCE) {
      const photo = waiting.shift()!;
      searching.set(photo.id, photo);
      void search(photo).finally(() => {
        searching.delete(photo.id);
        tellLoad();
        next();
      });
    }
    tellLoad();
    if (waiting.length === 0 && searching.size === 0) {
      for (const resolve of idle) resolve();
      idle.clear();
    }
  };

  const search = async (photo: Photo): Promise<void> => {
    try {
      const home = await served.records.look((look) => photoAtHome(look, photo.id));
      if (!home.ok) return;
      const study = home.value.study.id;
      const event = (
        state: 'searching' | 'searched' | 'refused',
        share: number,
        refusal: Refusal | null = null,
      ) =>
        tell({
          what: 'photo',
          study,
          filter: photo.filter,
          photo: photo.id,
          state,
          share,
          refusal: refusal && { why: refusal.why, message: refusal.message },
        });
      event('searching', 0);
      const found = await findOnPhoto(served, {
        photo: photo.id,
        progress: (share) => event('searching', share),
      });
      if (closed) return;
      searching.delete(photo.id);
      if (found.ok) {
        const { refusal } = found.value.finding;
        event(refusal && found.value.particles === 0 ? 'refused' : 'searched', 1, refusal);
      } else {
        refusals.set(photo.id, found.refusal);
        event('refused', 1, found.refusal);
      }
    } catch (failure) {
      const message = failure instanceof Error ? failure.message : String(failure);
      served.log(`searching ${photo.id}: ${message}`);
      const trouble = troubleOf(failure);
      refusals.set(photo.id, {
        why: trouble.why,
        message: `“${photo.name}” could not be searched and is tried again at the next start. ${trouble.message}`,
      });
    }
  };

  const add = (photo: Photo): void => {
    if (searching.has(photo.id) || waiting.some((one) => one.id === photo.id)) return;
    refusals.delete(photo.id);
    waiting.push(photo);
    next();
  };

  return {
    add,
    async resume() {
      const lines = await served.records.look(async (look) => {
        const studies = await look.studies.list();
        return (await Promise.all(studies.map((study) => look.photos.linesOfStudy(study.id)))).flat();
      });
      for (const line of lines) if (line.finding === null) add(line);
    },
    async stop(photos, study) {
      const meant = new Set<string>(photos.map(({ id }) => id));
      const stopped = waiting.filter(({ id }) => meant.has(id));
      for (const photo of stopped) {
        waiting.splice(waiting.indexOf(photo), 1);
        refusals.set(photo.id, STOPPED);
        tell({
          what: 'photo',
          study,
          filter: photo.filter,
          photo: photo.id,
          state: 'refused',
          share: 0,
          refusal: STOPPED,
        });
      }
      next();
      return stopped.length;
    },
    state: (photo) =>
      searching.has(photo) ? 'searching' : waiting.some((one) => one.id === photo) ? 'waiting' : null,
    refusal: (photo) => refusals.get(photo) ?? null,
    get load() {
      return load();
    },
    listen(hear) {
      listeners.add(hear);
      return () => listeners.delete(hear);
    },
    tell,
    settled: () =>
      waiting.length === 0 && searching.size === 0
        ? Promise.resolve()
        : new Promise((resolve) => {
            idle.add(resolve);
          }),
    close() {
      closed = true;
      waiting.length = 0;
      listeners.clear();
    },
  };
}
