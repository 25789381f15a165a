import type { Json } from './claim-snapshot.ts';
import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import { isSha256, type Sha256 } from './photo.ts';
import {
  aName,
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  number,
  oneOf,
  orNull,
  type Rule,
  text,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type SpectrumFileId = Id<'spectrum-file'>;

/** A spectrum of a particle, or of a known material of this laboratory. The original is kept by its hash. */
export interface SpectrumFile {
  readonly id: SpectrumFileId;
  readonly study: StudyId;
  /** Null: a known material. */
  readonly particle: ParticleId | null;
  /** What it is known to be; null: a particle, about which nothing is known. */
  readonly material: string | null;
  readonly sha256: Sha256;
  readonly name: string;
  readonly bytes: number;
  readonly technique: 'infrared' | 'raman';
  /** What it was like when it was brought in (format retentate/match/1); null: there was nothing to hold it against. */
  readonly match: Json | null;
  readonly by: PersonId;
  readonly at: Instant;
}

const aHash: Rule = (value, what) =>
  typeof value === 'string' && isSha256(value)
    ? null
    : { why: 'not-a-hash', message: `${what}: a SHA-256 is needed.` };

export const makeSpectrumFile = maker<SpectrumFile>('spectrum', {
  id: anId,
  study: anId,
  particle: orNull(anId),
  material: orNull(aName),
  sha256: aHash,
  name: text(1, 255),
  bytes: number({ above: 0, whole: true }),
  technique: oneOf(['infrared', 'raman']),
  match: () => null,
  by: anId,
  at: anInstant,
});
