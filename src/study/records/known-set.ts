import { COLOURS, type Colour, SHAPES, type Shape } from '../../science/imaging/finding.ts';
import type { Micrometres } from '../../units/index.ts';
import { isSynthetic, MATERIAL_CLASSES, type MaterialClass } from '../evidence/material-classes.ts';
import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import {
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  oneOf,
  orNull,
  positive,
  record,
  text,
  yesOrNo,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type KnownSetId = Id<'known-set'>;
export type DrillAnswerId = Id<'drill-answer'>;

/** A piece whose material is known because somebody made it or bought it. */
export interface KnownPiece {
  /** What stands beside it in the set: "A1". */
  readonly key: string;
  readonly material: string;
  readonly class: MaterialClass;
  readonly shape: Shape;
  readonly colour: Colour;
  readonly sizeUm: Micrometres | null;
  /** The particle that it is on a photograph, where there is one: only then can it be slipped in among others. */
  readonly particle: ParticleId | null;
}

export interface KnownSet {
  readonly id: KnownSetId;
  readonly study: StudyId;
  readonly name: string;
  /** How the pieces were made, so that anybody can make them. */
  readonly made: string;
  readonly pieces: readonly KnownPiece[];
  readonly by: PersonId;
  readonly at: Instant;
}

const aPiece = record<KnownPiece>({
  key: text(1, 20),
  material: text(1, 80),
  class: oneOf(MATERIAL_CLASSES),
  shape: oneOf(SHAPES),
  colour: oneOf(COLOURS),
  sizeUm: orNull(positive),
  particle: orNull(anId),
});

export const makeKnownSet = maker<KnownSet>(
  'known pieces',
  {
    id: anId,
    study: anId,
    name: aName,
    made: aNote,
    pieces: listOf(aPiece, 500),
    by: anId,
    at: anInstant,
  },
  ({ name, pieces }) => {
    const keys = new Set(pieces.map((piece) => piece.key));
    if (keys.size < pieces.length) {
      return {
        why: 'named-twice',
        message: `known pieces “${name}”: two pieces have the same name; give each its own.`,
      };
    }
    if (
      !pieces.some((piece) => isSynthetic(piece.class)) ||
      !pieces.some((piece) => !isSynthetic(piece.class))
    ) {
      return {
        why: 'one-sided',
        message: `known pieces “${name}”: plastics and look-alikes are both needed, or one of the two error rates stays unknown.`,
      };
    }
    return null;
  },
);

export const CALLS = ['plastic', 'other', 'cannot-tell'] as const;
export type Call = (typeof CALLS)[number];

/** What somebody said of a known piece. */
export interface DrillAnswer {
  readonly id: DrillAnswerId;
  readonly study: StudyId;
  readonly set: KnownSetId;
  readonly piece: string;
  /** `by-eye`, or the bench test that it was put to. */
  readonly test: string;
  readonly called: Call;
  /** False where it was slipped in among others. */
  readonly announced: boolean;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeDrillAnswer = maker<DrillAnswer>('drill', {
  id: anId,
  study: anId,
  set: anId,
  piece: text(1, 20),
  test: text(1, 60),
  called: oneOf(CALLS),
  announced: yesOrNo,
  by: anId,
  at: anInstant,
});
