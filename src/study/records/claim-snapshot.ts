import type { PersonId } from './laboratory.ts';
import { anId, anInstant, type Id, type Instant, maker, type Rule, text } from './rules.ts';
import type { SpecimenId } from './specimen.ts';
import type { StudyId } from './study.ts';

export type SnapshotId = Id<'snapshot'>;
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** A claim as it stood at a moment, with the counts it came from. Appended, never changed. */
export interface ClaimSnapshot {
  readonly id: SnapshotId;
  readonly study: StudyId;
  readonly specimen: SpecimenId;
  readonly claim: Json;
  readonly counts: Json;
  /** Version of the program that made it. */
  readonly version: string;
  readonly at: Instant;
  readonly by: PersonId;
}

const json: Rule = (value, what) =>
  typeof value === 'object' && value !== null
    ? null
    : { why: 'not-a-record', message: `${what}: a record is needed.` };

export const makeClaimSnapshot = maker<ClaimSnapshot>('claim', {
  id: anId,
  study: anId,
  specimen: anId,
  claim: json,
  counts: json,
  version: text(1, 40),
  at: anInstant,
  by: anId,
});
