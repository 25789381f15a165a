/** How photographs are searched, over HTTP. */
import { STOPPED, setSearch, toSearchAnew } from '../actions/index.ts';
import type { SEARCH_QUEUE_ROUTES, SEARCH_ROUTES, SearchJson, SearchWish } from '../api/index.ts';
import { ownFalseFinds, type StudyId, USUAL_SEARCH } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import type { PhotoQueue } from './photo-queue.ts';
import type { Served } from './served.ts';

export const searchAnswers = (
  served: Served,
  queue: PhotoQueue,
): Readonly<Record<keyof typeof SEARCH_ROUTES, Answering>> => ({
  search: async (c) => answered(c, await view(served, queue, part(c, 'study'))),
  setSearch: async (c) => {
    const { false_finds_per_blank, smallest_um } = valid<SearchWish>(c, 'json');
    const study = part(c, 'study');
    const made = await setSearch(served, {
      study,
      falseFindsPerBlank: false_finds_per_blank,
      smallestUm: smallest_um,
      by: served.person,
    });
    return answered(c, made.ok ? await view(served, queue, study) : made);
  },
  searchAnew: async (c) => {
    const study = part(c, 'study');
    const anew = await toSearchAnew(served, { study });
    if (!anew.ok) return answered(c, anew);
    for (const photo of anew.value.photos) queue.add(photo);
    return answered(c, await view(served, queue, study));
  },
});

/** Stopping what waits of a study, and taking it up again. */
export const searchQueueAnswers = (
  served: Served,
  queue: PhotoQueue,
): Readonly<Record<keyof typeof SEARCH_QUEUE_ROUTES, Answering>> => ({
  stopSearch: async (c) => {
    const study = part(c, 'study') as StudyId;
    const lines = await served.records.look((look) => look.photos.linesOfStudy(study));
    return c.json({ photos: await queue.stop(lines, study) });
  },
  takeUpSearch: async (c) => {
    const lines = await served.records.look((look) => look.photos.linesOfStudy(part(c, 'study') as StudyId));
    const stopped = lines.filter(({ id }) => queue.refusal(id)?.why === STOPPED.why);
    for (const photo of stopped) queue.add(photo);
    return c.json({ photos: stopped.length });
  },
});

async function view(served: Served, queue: PhotoQueue, study: string): Promise<Outcome<SearchJson>> {
  const anew = await toSearchAnew(served, { study });
  if (!anew.ok) return anew;
  return served.records.look(async (look) => {
    const said = await look.searchSettings.newest(study as StudyId);
    const { falseFindsPerBlank, smallestUm } = said ?? USUAL_SEARCH;
    const { method, version } = served.work;
    const measured = await look.falseFinds.newest(study as StudyId);
    return done({
      false_finds_per_blank: falseFindsPerBlank,
      smallest_um: smallestUm,
      said: said && { by: (await look.people.get(said.by))?.name ?? '', at: said.at },
      own: ownFalseFinds(measured, { method, version, falseFindsPerBlank, smallestUm }),
      otherwise: anew.value.photos.filter((photo) => queue.state(photo.id) === null).length,
      in_use: anew.value.inUse.length,
    });
  });
}
