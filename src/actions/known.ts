/** Small questions that many deeds ask first. */
import type { Filter, Id, Photo, Study } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import type { ReadingReturning } from './ledgers.ts';
import type { Look } from './ports.ts';

/** The record, or a refusal that names what is missing. */
export async function known<T>(found: Promise<T | null>, what: string, id: string): Promise<Outcome<T>> {
  const record = await found;
  return record === null
    ? refused({
        why: `no-such-${what}`,
        message: `There is no ${what} ${id} in this laboratory; read the list anew.`,
      })
    : done(record);
}

/** The study that a filter's run belongs to. */
export async function studyOfFilter(look: Look, filter: Pick<Filter, 'run'>): Promise<Study | null> {
  const run = await look.runs.get(filter.run);
  return run && look.studies.get(run.study);
}

/** The study that a photograph belongs to by the filter it lies on. */
export async function studyOfPhoto(look: Look, photo: Pick<Photo, 'filter'>): Promise<Study | null> {
  const filter = await look.filters.get(photo.filter);
  return filter && studyOfFilter(look, filter);
}

/** What stands, then what is withdrawn: that keeps its name, and what it used is used. */
export const everOf = async <T>(
  { ofStudy, withdrawnOfStudy }: Pick<ReadingReturning<T, string>, 'ofStudy' | 'withdrawnOfStudy'>,
  study: Study['id'],
): Promise<readonly T[]> => [...(await ofStudy(study)), ...(await withdrawnOfStudy(study))];

/** A name is used once in its list, whatever the case of its letters. */
export function nameFree(
  name: string,
  others: readonly { readonly name: string }[],
  what: string,
): Outcome<string> {
  const wanted = name.trim().toLowerCase();
  return others.some((other) => other.name.toLowerCase() === wanted)
    ? refused({
        why: 'name-taken',
        message: `There is a ${what} “${name.trim()}” already; choose another name.`,
      })
    : done(name);
}

export const asId = <K extends string>(id: string): Id<K> => id as Id<K>;
