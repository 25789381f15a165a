import { PeopleAnswer, PersonJson, PersonWish } from '../people.ts';
import { route } from '../route.ts';

export const PEOPLE_ROUTES = {
  people: route({
    method: 'get',
    path: '/api/people',
    does: 'The people of the laboratory, and who is working.',
    answer: PeopleAnswer,
  }),
  addPerson: route({
    method: 'post',
    path: '/api/people',
    does: 'Enter a person; one of the same name is given back. Requests name who is working in the header x-working.',
    body: PersonWish,
    answer: PersonJson,
  }),
} as const;
