import type { Point } from '../../science/imaging/finding.ts';
import type { ParticleId } from './found.ts';
import type { KnownSetId } from './known-set.ts';
import { CALLS, type Call } from './known-set.ts';
import type { PersonId } from './laboratory.ts';
import type { PhotoId } from './photo.ts';
import {
  aFraction,
  aName,
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
  record,
  text,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type RoundId = Id<'round'>;

export const CARD_SIDES = ['specimen', 'control', 'known'] as const;
export type CardSide = (typeof CARD_SIDES)[number];

/** One line of the key: what stands behind a neutral code. */
export interface KeyCard {
  readonly code: string;
  /** The piece that is judged; null on a field, where pieces are looked for. */
  readonly particle: ParticleId | null;
  readonly photo: PhotoId;
  /** Middle and width of the part of the upright photo that is shown. */
  readonly centrePx: Point;
  readonly widthPx: number;
  readonly widthUm: number | null;
  readonly side: CardSide;
  /** Of a known piece: its name in its set. */
  readonly piece: string | null;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  readonly guess: boolean;
  readonly again: boolean;
}

/** Pieces: each picture shows one, and the scorer says what it is. Fields: the scorer finds the pieces too. */
export const ROUND_OF = ['pieces', 'fields'] as const;
export type RoundOf = (typeof ROUND_OF)[number];

/** A round of scoring without knowing. Its key stays sealed until it is opened; the hash shows that it was not changed. */
export interface BlindRound {
  readonly id: RoundId;
  readonly study: StudyId;
  readonly name: string;
  readonly what: RoundOf;
  /** Two who score independently (or one), and a third for what they disagree on. */
  readonly scorers: readonly PersonId[];
  readonly third: PersonId | null;
  readonly knownSet: KnownSetId | null;
  readonly guessShare: number;
  readonly againShare: number;
  readonly seed: number;
  /** Sealed: no view gives it before the opening. */
  readonly key: readonly KeyCard[];
  readonly keyHash: string;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeBlindRound = maker<BlindRound>(
  'round',
  {
    id: anId,
    study: anId,
    name: aName,
    what: oneOf(ROUND_OF),
    scorers: listOf(anId, 2),
    third: orNull(anId),
    knownSet: orNull(anId),
    guessShare: aFraction,
    againShare: aFraction,
    seed: number({ from: 0, whole: true }),
    // drawn by the program; its parts are its own
    key: (value, what) =>
      Array.isArray(value) && value.length > 0
        ? null
        : { why: 'nothing-to-score', message: `${what}: there is no picture to score.` },
    keyHash: text(64, 64),
    by: anId,
    at: anInstant,
  },
  ({ name, scorers, third }) => {
    if (scorers.length === 0)
      return { why: 'no-scorer', message: `round “${name}”: say who scores; two people are best.` };
    if (new Set([...scorers, third]).size < scorers.length + 1) {
      return {
        why: 'same-person',
        message: `round “${name}”: the people who score must be different people.`,
      };
    }
    return null;
  },
);

/** The key of a round that came with a packed study while it was sealed: it stayed in the laboratory that drew it. */
export const KEPT_ELSEWHERE = { seed: -1, key: [] } as const;
export const keyIsHere = ({ key }: Pick<BlindRound, 'key'>): boolean => key.length > 0;

export const GUESSES = ['specimen', 'control'] as const;
export type Guess = (typeof GUESSES)[number];

export interface FoundPoint {
  readonly x: number;
  readonly y: number;
  readonly called: Call;
  /** From end to end, in parts of the picture's side; null where it was only pointed at. */
  readonly length: number | null;
}

/** One blinded answer on one picture. A further one by the same person on the same showing takes its place. */
export interface Reading {
  readonly id: Id<'reading'>;
  readonly round: RoundId;
  readonly code: string;
  readonly pass: 1 | 2;
  /** What the piece is; null on a field. */
  readonly called: Call | null;
  /** Pieces found on a field, in parts of the picture's side from its top left corner; null where one piece is judged. */
  readonly points: readonly FoundPoint[] | null;
  readonly guess: Guess | null;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeReading = maker<Reading>(
  'reading',
  {
    id: anId,
    round: anId,
    code: text(2, 12),
    pass: number({ from: 1, to: 2, whole: true }),
    called: orNull(oneOf(CALLS)),
    points: orNull(
      listOf(
        record<FoundPoint>({ x: aFraction, y: aFraction, called: oneOf(CALLS), length: orNull(aFraction) }),
        500,
      ),
    ),
    guess: orNull(oneOf(GUESSES)),
    by: anId,
    at: anInstant,
  },
  ({ called, points }) =>
    (called === null) === (points === null)
      ? {
          why: 'not-an-answer',
          message: 'reading: say what the piece is, or on a field which pieces are there; one of the two.',
        }
      : null,
);

export const ROUND_DEEDS = ['predict', 'lock', 'open', 'take-over'] as const;
export type RoundDeed = (typeof ROUND_DEEDS)[number];

/** What happened to a round: a prediction before the opening, a scorer's lock, the opening, the taking over as marks. */
export interface RoundEvent {
  readonly id: Id<'round-event'>;
  readonly round: RoundId;
  readonly deed: RoundDeed;
  /** A prediction in words; else what was done. */
  readonly says: string;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeRoundEvent = maker<RoundEvent>('round', {
  id: anId,
  round: anId,
  deed: oneOf(ROUND_DEEDS),
  says: aNote,
  by: anId,
  at: anInstant,
});
