import { COLOURS, type Colour, type Point, SHAPES, type Shape } from '../../science/imaging/finding.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import { type AsGiven, anId, anInstant, type Id, type Instant, listOf, oneOf, type Rule } from './rules.ts';

export type MarkId = Id<'mark'>;

/** Somebody's decision on a particle. Undo is a further decision that names the one it takes back. */
export type Decision =
  | { readonly kind: 'keep' }
  | { readonly kind: 'drop' }
  | { readonly kind: 'class'; readonly shape: Shape }
  | { readonly kind: 'colour'; readonly colour: Colour }
  | { readonly kind: 'split'; readonly outlines: readonly (readonly Point[])[] }
  | { readonly kind: 'merge'; readonly with: readonly ParticleId[]; readonly outline: readonly Point[] }
  | { readonly kind: 'redraw'; readonly outline: readonly Point[] }
  | { readonly kind: 'undo'; readonly undoes: MarkId };

export interface Mark {
  readonly id: MarkId;
  readonly particle: ParticleId;
  readonly decision: Decision;
  readonly by: PersonId;
  readonly at: Instant;
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

type Fields = { readonly [field: string]: Rule };
const DECISIONS: { readonly [K in Decision['kind']]: Fields } = {
  keep: {},
  drop: {},
  class: { shape: oneOf(SHAPES) },
  colour: { colour: oneOf(COLOURS) },
  split: { outlines: listOf(anOutline, 100) },
  merge: { with: listOf(anId, 100), outline: anOutline },
  redraw: { outline: anOutline },
  undo: { undoes: anId },
};
export const DECISION_KINDS = Object.keys(DECISIONS) as readonly Decision['kind'][];

export function makeMark(given: AsGiven<Mark>): Outcome<Mark> {
  const decision = given.decision as unknown as Record<string, unknown>;
  const rules = Object.hasOwn(DECISIONS, String(decision?.kind))
    ? DECISIONS[decision.kind as Decision['kind']]
    : undefined;
  const problem =
    anId(given.id, 'mark, id') ??
    anId(given.particle, 'mark, particle') ??
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
  if (kept.kind === 'merge' && (kept.with as unknown[]).length < 1) {
    return refused({ why: 'too-few-pieces', message: 'mark (merge): name at least one other particle.' });
  }
  const { id, particle, by, at } = given;
  return done({ id, particle, decision: kept, by, at } as unknown as Mark);
}
