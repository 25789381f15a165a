import { makePerson, type Person } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import type { Desk, Tools } from './ports.ts';

/** The person of this name, entered now where there is none. */
export const addPerson = (
  tools: Pick<Tools, 'records' | 'clock' | 'names'>,
  given: { readonly name: string; readonly initials?: string },
): Promise<Outcome<Person>> =>
  tools.records.change(async (desk) => {
    const there = (await desk.people.list()).find((person) => person.name === given.name.trim());
    return there ? done(there) : enterPerson(tools, desk, given);
  });

/** Somebody new. */
export async function enterPerson(
  { clock, names }: Pick<Tools, 'clock' | 'names'>,
  desk: Desk,
  given: { readonly name: string; readonly initials?: string },
): Promise<Outcome<Person>> {
  const initials =
    given.initials ??
    given.name
      .split(/\s+/u)
      .map((word) => [...word][0] ?? '')
      .join('')
      .slice(0, 8);
  const made = makePerson({ id: names.next(), name: given.name, initials, since: clock.now() });
  if (made.ok) await desk.people.add(made.value);
  return made;
}

/** Whether two names read the same: whatever the case, the spaces, signs without width, and the way a letter is encoded. */
export const sameName = (one: string, other: string): boolean => asRead(one) === asRead(other);
const asRead = (name: string): string =>
  name
    .normalize('NFKC')
    .replace(/\p{Cf}/gu, '')
    .trim()
    .replace(/\s+/gu, ' ')
    .toLowerCase();
