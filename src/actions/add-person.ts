import { makePerson, type Person } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import type { Tools } from './ports.ts';

/** The person of this name, entered now where there is none. */
export const addPerson = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  given: { readonly name: string; readonly initials?: string },
): Promise<Outcome<Person>> =>
  records.change(async (desk) => {
    const there = (await desk.people.list()).find((person) => person.name === given.name.trim());
    if (there) return done(there);
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
  });
