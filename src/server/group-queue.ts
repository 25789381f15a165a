import { type PhotoJobs, queuePhoto, type SearchWord, stopPhoto } from '../actions/index.ts';
import type { ProgressEvent } from '../api/index.ts';
import type { Photo } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';

/** After so long the records are read again when a photo could not be put into the queue. */
const AGAIN_MS = 2_000;

interface Known {
  readonly state: SearchWord['state'];
  readonly refusal: Refusal | null;
}

/** The queue of a group as this server sees it: workers search, here one hears of it. */
export function groupQueue(served: Served, jobs: PhotoJobs): PhotoQueue {
  const known = new Map<string, Known>();
  /** Photos heard of since the records were last read: what was read of them is older. */
  const newer = new Set<string>();
  const listeners = new Set<(event: ProgressEvent) => void>();
  const idle = new Set<() => void>();
  const tell = (event: ProgressEvent): void => {
    for (const hear of listeners) hear(event);
  };
  const load = { waiting: 0, searching: 0 };
  const know = (photo: string, now: Known): void => {
    const before = known.get(photo);
    if (before?.state === 'waiting' || before?.state === 'searching') load[before.state]--;
    if (now.state === 'waiting' || now.state === 'searching') load[now.state]++;
    known.set(photo, now);
  };
  const changed = (): void => {
    tell({ what: 'queue', ...load });
    if (load.waiting + load.searching > 0) return;
    for (const resolve of idle) resolve();
    idle.clear();
  };
  const hear = (word: SearchWord): void => {
    newer.add(word.photo);
    const before = known.get(word.photo)?.state;
    know(word.photo, { state: word.state, refusal: word.refusal });
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
    newer.add(photo.id);
    know(photo.id, { state: 'waiting', refusal: null });
    changed();
    void (async () => {
      const home = await served.records.look((look) => photoAtHome(look, photo.id));
      if (home.ok) await queuePhoto(served, jobs, { photo, study: home.value.study.id });
    })().catch((failure: unknown) => {
      served.log(`queueing ${photo.id}: ${failure instanceof Error ? failure.message : String(failure)}`);
      rereadSoon();
    });
  };
  /** What the records say, wherever it is not what was heard; and every photo that should be in the queue put there. */
  const readOnce = async (): Promise<void> => {
    newer.clear();
    const [states, lines] = await served.records.look(async (look) => {
      const studies = await look.studies.list();
      const photos = [];
      for (const { id } of studies) {
        for (const line of await look.photos.linesOfStudy(id)) photos.push({ ...line, study: id });
      }
      return [
        new Map((await look.searches.list()).map((one) => [one.photo as string, one])),
        photos,
      ] as const;
    });
    for (const line of lines) {
      if (newer.has(line.id)) continue;
      const kept = states.get(line.id);
      if (kept && kept.state !== known.get(line.id)?.state) {
        const { state, refusal } = kept;
        const share = state === 'waiting' || state === 'searching' ? 0 : 1;
        hear({ photo: line.id, study: line.study, filter: line.filter, state, share, refusal });
      }
      // The queue takes a photo once; a job that was lost is made anew.
      if (kept?.state === 'waiting' || kept?.state === 'searching') {
        await jobs.add({ photo: line.id, study: line.study, priority: 0 });
      } else if (line.finding === null && (!kept || kept.state === 'searched')) {
        add(line);
      }
    }
  };
  let reading = Promise.resolve();
  const reread = (): Promise<void> => {
    reading = reading.catch(() => {}).then(readOnce);
    return reading;
  };
  let soon: NodeJS.Timeout | null = null;
  const rereadSoon = (): void => {
    soon ??= setTimeout(() => {
      soon = null;
      reread().catch(rereadSoon);
    }, AGAIN_MS);
    soon.unref();
  };
  return {
    add,
    async stop(photos, study) {
      let stopped = 0;
      for (const photo of photos) {
        if (known.get(photo.id)?.state !== 'waiting') continue;
        if (await stopPhoto(served, jobs, { photo, study })) stopped += 1;
      }
      return stopped;
    },
    resume: () => jobs.listen(hear, reread),
    state: (photo) => {
      const state = known.get(photo)?.state;
      return state === 'waiting' || state === 'searching' ? state : null;
    },
    refusal: (photo) => known.get(photo)?.refusal ?? null,
    get load() {
      return { ...load };
    },
    listen(one) {
      listeners.add(one);
      return () => listeners.delete(one);
    },
    tell,
    settled: () =>
      load.waiting + load.searching === 0
        ? Promise.resolve()
        : new Promise((resolve) => {
            idle.add(resolve);
          }),
    close() {
      if (soon) clearTimeout(soon);
      listeners.clear();
    },
  };
}
