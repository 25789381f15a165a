import { COLOURS, type Colour, type Point, SHAPES, type Shape } from '../../science/imaging/finding.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import type { PhotoId } from './photo.ts';
import { type AsGiven, anId, anInstant, type Id, type Instant, listOf, oneOf, type Rule } from './rules.ts';

export type MarkId = Id<'mark'>;

/** Somebody's decision. Undo is a further decision that names the one it takes back. */
export type Decision =
  | { readonly kind: 'keep' }
  | { readonly kind: 'drop' }
  | { readonly kind: 'class'; readonly shape: Shape }
  | { readonly kind: 'colour'; readonly colour: Colour }
  | { readonly kind: 'split'; readonly outlines: readonly (readonly Point[])[] }
  | { readonly kind: 'merge'; readonly outline: readonly Point[] }
  | { readonly kind: 'redraw'; readonly outline: readonly Point[] }
  /** A piece that the program did not find; the one particle of the mark is the piece that it draws. */
  | {
      readonly kind: 'draw';
      readonly outline: readonly Point[];
      readonly shape: Shape;
      readonly colour: Colour;
      /** CIELAB inside the outline, as the photo has it. */
      readonly lab: readonly [L: number, a: number, b: number];
    }
  | { readonly kind: 'undo'; readonly undoes: MarkId };

export interface Mark {
  readonly id: MarkId;
  readonly photo: PhotoId;
  /** All that the one gesture touches, of one finding of the photo. */
  readonly particles: readonly ParticleId[];
  readonly decision: Decision;
  readonly by: PersonId;
  readonly at: Instant;
  /** The mark on an earlier finding that this one repeats, where the photograph was searched anew. */
  readonly carries?: MarkId;
}

const aPoint: Rule = (value, what) =>
  Array.isArray(value) &&
  value.length === 2 &&
  value.every((n) => typeof n === 'number' && Number.isFinite(n))
    ? null
    : { why: 'not-a-point', message: `${what}: a point [x, y] in pixels is needed.` };
const anOutline: Rule = (value, what) => {
  if (Array.isArray(value) && value.length < 3) {
    return { why: 'too-few-points', message: `${what}: an outline needs at least three points.` };
  }
  return listOf(aPoint, 20_000)(value, what);
};
const aLab: Rule = (value, what) =>
  Array.isArray(value) && value.length === 3 && value.every((n) => Number.isFinite(n))
    ? null
    : { why: 'not-a-colour', message: `${what}: CIELAB [L, a, b] is needed.` };

type Fields = { readonly [field: string]: Rule };
const DECISIONS: { readonly [K in Decision['kind']]: Fields } = {
  keep: {},
  drop: {},
  class: { shape: oneOf(SHAPES) },
  colour: { colour: oneOf(COLOURS) },
  split: { outlines: listOf(anOutline, 100) },
  merge: { outline: anOutline },
  redraw: { outline: anOutline },
  draw: { outline: anOutline, shape: oneOf(SHAPES), colour: oneOf(COLOURS), lab: aLab },
  undo: { undoes: anId },
};
const ONE_AT_A_TIME: ReadonlySet<Decision['kind']> = new Set(['split', 'redraw', 'draw']);
export const DECISION_KINDS = Object.keys(DECISIONS) as readonly Decision['kind'][];

export function makeMark(given: AsGiven<Mark>): Outcome<Mark> {
  const decision = given.decision as unknown as Record<string, unknown>;
  const rules = Object.hasOwn(DECISIONS, String(decision?.kind))
    ? DECISIONS[decision.kind as Decision['kind']]
    : undefined;
  const problem =
    anId(given.id, 'mark, id') ??
    anId(given.photo, 'mark, photo') ??
    listOf(anId, 10_000)(given.particles, 'mark, particles') ??
    anId(given.by, 'mark, by') ??
    anInstant(given.at, 'mark, at') ??
    (rules === undefined ? oneOf(DECISION_KINDS)(decision?.kind, 'mark, kind') : null);
  if (problem || rules === undefined) {
    return refused(problem ?? { why: 'not-in-list', message: 'mark: an unknown decision.' });
  }
  const kept: Record<string, unknown> = { kind: decision.kind };
  for (const [field, rule] of Object.entries(rules)) {
    const wrong = rule(decision[field], `mark (${String(decision.kind)}), ${field}`);
    if (wrong) return refused(wrong);
    kept[field] = decision[field];
  }
  if (kept.kind === 'split' && (kept.outlines as unknown[]).length < 2) {
    return refused({ why: 'too-few-pieces', message: 'mark (split): two outlines or more are needed.' });
  }
  const particles = [...new Set(given.particles)];
  if (particles.length === 0) {
    return refused({ why: 'no-particles', message: 'mark: name at least one particle.' });
  }
  if (kept.kind === 'merge' && particles.length < 2) {
    return refused({ why: 'too-few-pieces', message: 'mark (merge): two particles or more are needed.' });
  }
  if (ONE_AT_A_TIME.has(decision.kind as Decision['kind']) && particles.length > 1) {
    return refused({ why: 'too-many', message: `mark (${kept.kind}): one particle at a time.` });
  }
  const { id, photo, by, at } = given;
  return done({ id, photo, particles, decision: kept, by, at } as unknown as Mark);
}
