/** Small questions that many deeds ask first. */
import type { Id } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

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
