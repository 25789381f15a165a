import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import {
  aCount,
  aName,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  number,
  oneOf,
  record,
  text,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type ConfirmationId = Id<'confirmation'>;

/** Pieces alike in shape, size and colour, on one side of the comparison. */
export interface ConfirmationStratum {
  readonly name: string;
  readonly side: 'specimens' | 'controls';
  /** How many pieces it held when it was drawn. */
  readonly pieces: number;
  /** Drawn at random from them. */
  readonly drawn: readonly ParticleId[];
}

/** A random subset to be put to one test, drawn within strata before anybody looks at it closely. */
export interface Confirmation {
  readonly id: ConfirmationId;
  readonly study: StudyId;
  readonly name: string;
  readonly test: string;
  readonly seed: number;
  readonly strata: readonly ConfirmationStratum[];
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeConfirmation = maker<Confirmation>('subset', {
  id: anId,
  study: anId,
  name: aName,
  test: text(1, 60),
  seed: number({ from: 0, whole: true }),
  strata: listOf(
    record<ConfirmationStratum>({
      name: text(1, 120),
      side: oneOf(['specimens', 'controls']),
      pieces: aCount,
      drawn: listOf(anId, 5000),
    }),
    200,
  ),
  by: anId,
  at: anInstant,
});
