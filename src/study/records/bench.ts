/** Records around the bench: what was taken back, run orders drawn, where a photograph lies, pictures of the set-up. */

import type { FilterId } from './filter.ts';
import type { PersonId } from './laboratory.ts';
import { isSha256, PHOTO_FORMATS, type PhotoFormat, type PhotoId, type Sha256 } from './photo.ts';
import {
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  number,
  oneOf,
  orNull,
  text,
} from './rules.ts';
import type { RunId } from './run.ts';
import type { StudyId } from './study.ts';

export const WITHDRAWABLE = ['deviation', 'fraction', 'filter'] as const;
export type Withdrawable = (typeof WITHDRAWABLE)[number];

/** A record that no longer stands; it is still there, with who took it back, when and why. */
export interface Withdrawal {
  readonly id: Id<'withdrawal'>;
  readonly study: StudyId;
  readonly what: Withdrawable;
  readonly subject: string;
  readonly why: string;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeWithdrawal = maker<Withdrawal>('withdrawal', {
  id: anId,
  study: anId,
  what: oneOf(WITHDRAWABLE),
  subject: anId,
  why: aNote,
  at: anInstant,
  by: anId,
});

/** An order drawn by chance: seed and method make it again. */
export interface RunOrder {
  readonly id: Id<'run-order'>;
  readonly study: StudyId;
  readonly seed: number;
  readonly method: string;
  readonly runs: readonly RunId[];
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeRunOrder = maker<RunOrder>('run order', {
  id: anId,
  study: anId,
  seed: number({ from: 0, to: 4_294_967_295, whole: true }),
  method: text(1, 60),
  runs: listOf(anId, 1000),
  at: anInstant,
  by: anId,
});

/** Where on the disc a photograph was taken; the latest word stands. */
export interface PhotoPlace {
  readonly photo: PhotoId;
  /** Column and row from the top left of the disc as drawn, from 0; null: the whole disc. */
  readonly square: readonly [column: number, row: number] | null;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makePhotoPlace = maker<PhotoPlace>('place of a photograph', {
  photo: anId,
  square: orNull((value, what) =>
    Array.isArray(value) &&
    value.length === 2 &&
    value.every((part) => Number.isInteger(part) && part >= 0 && part <= 400)
      ? null
      : {
          why: 'not-a-square',
          message: `${what}: column and row of a square are needed, each from 0 to 400.`,
        },
  ),
  at: anInstant,
  by: anId,
});

/** A photograph that lay on the wrong filter goes to another or, without one, is set aside; the latest word stands. */
export interface PhotoMove {
  readonly id: Id<'photo-move'>;
  readonly photo: PhotoId;
  /** Null: set aside. */
  readonly filter: FilterId | null;
  readonly why: string;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makePhotoMove = maker<PhotoMove>('move of a photograph', {
  id: anId,
  photo: anId,
  filter: orNull(anId),
  why: text(1, 400),
  at: anInstant,
  by: anId,
});

/** A picture of how it was set up at the bench; an original like all others, never searched for particles. */
export interface SetupPhoto {
  readonly id: Id<'setup-photo'>;
  readonly run: RunId;
  readonly stepKey: string | null;
  readonly sha256: Sha256;
  readonly name: string;
  readonly bytes: number;
  readonly format: PhotoFormat;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly orientation: number;
  readonly note: string;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeSetupPhoto = maker<SetupPhoto>('picture of the set-up', {
  id: anId,
  run: anId,
  stepKey: orNull(text(1, 60)),
  sha256: (value, what) =>
    typeof value === 'string' && isSha256(value)
      ? null
      : { why: 'not-a-hash', message: `${what}: 64 hexadecimal digits are needed.` },
  name: text(1, 255),
  bytes: number({ from: 1, whole: true }),
  format: oneOf(PHOTO_FORMATS),
  widthPx: number({ from: 1, whole: true }),
  heightPx: number({ from: 1, whole: true }),
  orientation: number({ from: 1, to: 8, whole: true }),
  note: aNote,
  at: anInstant,
  by: anId,
});
