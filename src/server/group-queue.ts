import { type PhotoJobs, queuePhoto, type SearchWord } from '../actions/index.ts';
import type { ProgressEvent } from '../api/index.ts';
import type { Photo } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';

interface Known {
  readonly state: SearchWord['state'];
  readonly refusal: Refusal | null;
}

/** The queue of a group as this server sees it: workers search, here one hears of it. */
export function groupQueue(served: Served, jobs: PhotoJobs): PhotoQueue {
  const known = new Map<string, Known>();
  const listeners = new Set<(event: ProgressEvent) => void>();
  const idle = new Set<() => void>();
  const tell = (event: ProgressEvent): void => {
    for (const hear of listeners) hear(event);
  };
  const load = () => {
    const count = { waiting: 0, searching: 0 };
    for (const { state } of known.values()) if (state === 'waiting' || state === 'searching') count[state]++;
    return count;
  };
  const changed = (): void => {
    const now = load();
    tell({ what: 'queue', ...now });
    if (now.waiting + now.searching > 0) return;
    for (const resolve of idle) resolve();
    idle.clear();
  };
  const hear = (word: SearchWord): void => {
    const before = known.get(word.photo)?.state;
    known.set(word.photo, { state: word.state, refusal: word.refusal });
    const { photo, study, filter, share, refusal } = word;
    tell({
      what: 'photo',
      photo,
      study,
      filter,
      share,
      state: word.state === 'set-aside' ? 'refused' : word.state,
      refusal: refusal && { why: refusal.why, message: refusal.message },
    });
    if (before !== word.state) changed();
  };
  const add = (photo: Photo): void => {
    known.set(photo.id, { state: 'waiting', refusal: null });
    changed();
    void (async () => {
      const home = await served.records.look((look) => photoAtHome(look, photo.id));
      if (home.ok) await queuePhoto(served, jobs, { photo, study: home.value.study.id });
    })().catch((failure: unknown) => {
      served.log(`queueing ${photo.id}: ${failure instanceof Error ? failure.message : String(failure)}`);
    });
  };
  return {
    add,
    async resume() {
      const [states, lines] = await served.records.look(async (look) => {
        const studies = await look.studies.list();
        const photos = [];
        for (const study of studies) photos.push(...(await look.photos.linesOfStudy(study.id)));
        return [await look.searches.list(), photos] as const;
      });
      for (const { photo, state, refusal } of states) known.set(photo, { state, refusal });
      await jobs.listen(hear);
      for (const line of lines) {
        const state = known.get(line.id)?.state;
        if (line.finding !== null || state === 'set-aside' || state === 'refused') continue;
        if (state === undefined || state === 'searched') add(line);
        // The queue takes a photo once; a job that was lost is made anew.
        else await jobs.add({ photo: line.id, study: line.filter, priority: 0 });
      }
    },
    state: (photo) => {
      const state = known.get(photo)?.state;
      return state === 'waiting' || state === 'searching' ? state : null;
    },
    refusal: (photo) => known.get(photo)?.refusal ?? null,
    get load() {
      return load();
    },
    listen(one) {
      listeners.add(one);
      return () => listeners.delete(one);
    },
    tell,
    settled: () =>
      load().waiting + load().searching === 0
        ? Promise.resolve()
        : new Promise((resolve) => {
            idle.add(resolve);
          }),
    close: () => listeners.clear(),
  };
}
