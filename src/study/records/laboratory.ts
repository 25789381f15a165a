import { aName, anId, anInstant, type Id, type Instant, maker, text, yesOrNo } from './rules.ts';

export type LaboratoryId = Id<'laboratory'>;
export type PersonId = Id<'person'>;

export interface Laboratory {
  readonly id: LaboratoryId;
  readonly name: string;
  /** True when everything in it is made up; every page that shows it says so. */
  readonly invented: boolean;
  readonly madeAt: Instant;
}

export const makeLaboratory = maker<Laboratory>('laboratory', {
  id: anId,
  name: aName,
  invented: yesOrNo,
  madeAt: anInstant,
});

export interface Person {
  readonly id: PersonId;
  readonly name: string;
  readonly initials: string;
  readonly since: Instant;
}

export const makePerson = maker<Person>('person', {
  id: anId,
  name: aName,
  initials: text(1, 8),
  since: anInstant,
});
