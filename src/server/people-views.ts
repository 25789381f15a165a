import { addPerson } from '../actions/index.ts';
import type { PEOPLE_ROUTES, PersonJson, PersonWish } from '../api/index.ts';
import type { Person } from '../study/index.ts';
import { answered, type Deed, valid } from './answering.ts';
import type { Served } from './served.ts';

const personJson = ({ id, name, initials }: Person): PersonJson => ({ id, name, initials });

export const peopleDeeds = (served: Served): Readonly<Record<keyof typeof PEOPLE_ROUTES, Deed>> => ({
  people: async (c) => {
    const people = await served.records.look((look) => look.people.list());
    return c.json({ people: people.map(personJson), working: served.person });
  },
  addPerson: async (c) => {
    const { name, initials } = valid<PersonWish>(c, 'json');
    return answered(c, await addPerson(served, { name, ...(initials ? { initials } : {}) }), personJson);
  },
});
