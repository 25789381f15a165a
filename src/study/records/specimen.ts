import type { Count, Grams } from '../../units/index.ts';
import {
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  number,
  oneOf,
  orNull,
  positive,
  text,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type SpecimenId = Id<'specimen'>;
export type PortionId = Id<'portion'>;

/** The product asked about, or another thing that went the same way for comparison. */
export const SPECIMEN_ROLES = ['product', 'comparison'] as const;
export type SpecimenRole = (typeof SPECIMEN_ROLES)[number];

export interface Specimen {
  readonly id: SpecimenId;
  readonly study: StudyId;
  readonly name: string;
  readonly role: SpecimenRole;
  readonly maker: string;
  readonly lot: string;
  readonly age: string;
  readonly material: string;
  readonly massG: Grams | null;
  readonly note: string;
  readonly madeAt: Instant;
}

export const makeSpecimen = maker<Specimen>('specimen', {
  id: anId,
  study: anId,
  name: aName,
  role: oneOf(SPECIMEN_ROLES),
  maker: text(0, 200),
  lot: text(0, 120),
  age: text(0, 120),
  material: text(0, 200),
  massG: orNull(positive),
  note: aNote,
  madeAt: anInstant,
});

/** Which mass the answer is divided by. */
export const MASSES = ['product-before', 'product-after', 'food-or-liquid'] as const;
export type WhichMass = (typeof MASSES)[number];

export interface Portion {
  readonly id: PortionId;
  readonly specimen: SpecimenId;
  readonly name: string;
  readonly massG: Grams;
  readonly massIs: WhichMass;
  readonly pieces: Count | null;
  readonly note: string;
}

export const makePortion = maker<Portion>('portion', {
  id: anId,
  specimen: anId,
  name: aName,
  massG: positive,
  massIs: oneOf(MASSES),
  pieces: orNull(number({ from: 1, whole: true })),
  note: aNote,
});
