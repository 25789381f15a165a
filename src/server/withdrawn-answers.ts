/** Withdrawing runs, portions and procedures, putting them back, and what is withdrawn. */
import { countStudy, withdrawnCounts, withdrawnOf, withdrawOrPutBack } from '../actions/index.ts';
import type { RecordMade, ReturningWish, WithdrawnAnswer } from '../api/index.ts';
import type { Id } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';
import { countJson } from './study-views.ts';

/** Photographs of a run that comes back may still have to be searched. */
export async function returningDeed(
  served: Served,
  queue: PhotoQueue,
  study: string,
  wish: ReturningWish,
): Promise<Outcome<RecordMade>> {
  const made = await withdrawOrPutBack(served, { ...wish, study, by: served.person });
  if (!made.ok) return made;
  if (!made.value.withdrawn) {
    const lines = await served.records.look((look) => look.photos.linesOfStudy(made.value.study));
    for (const line of lines) if (line.finding === null) queue.add(line);
  }
  return done({ id: made.value.id, name: made.value.what });
}

export const withdrawnView = ({ records }: Served, id: string): Promise<Outcome<WithdrawnAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as Id<'study'>);
    if (!study) return noSuch('study', id);
    const gone = await withdrawnOf(look, study.id);
    if (gone.length === 0) return done({ withdrawn: [] });
    const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
    const counts = await withdrawnCounts(look, await countStudy(look, study));
    return done({
      withdrawn: gone.map(({ word, name, runs }) => ({
        what: word.what,
        subject: word.subject,
        name,
        why: word.why,
        by: people.get(word.by) ?? '',
        at: word.at,
        count_open: word.countOpen,
        runs: runs.map((run) => ({
          id: run.id,
          name: run.name,
          count: countJson({ count: counts.get(run.id) ?? null, unmarked: 0 }),
        })),
      })),
    });
  });
