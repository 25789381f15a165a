import type { FamilyModel } from './family-model.ts';
import type { Technique } from './spectrum.ts';

/**
 * Evidence for an answer: mostly the likeness of the best reference, a little the lead of its family over the next that
 * is not kin. The weights served best with whole families and whole origins left out (docs/methods/spectra.md).
 */
export const evidence = (likeness: number, lead: number): number => (5 * likeness + Math.max(lead, 0)) / 6;

export interface Threshold {
  readonly evidence: number;
  /** Share of spectra of a material outside the references that would still be answered. */
  readonly falseAccepts: number;
  readonly basis: 'these-references' | 'stored';
  /** References and families that it rests on. */
  readonly references: number;
  readonly families: number;
}

/** Thresholds for reference sets too small to say: those of the public sets in the method page, with a margin. */
const STORED: Readonly<Record<Technique, number>> = { infrared: 0.88, raman: 0.72 };
/** Below this no likeness is an answer, however unlike the references are among themselves. */
const LOWEST: Readonly<Record<Technique, number>> = { infrared: 0.72, raman: 0.55 };
/** Fewer families or references than these cannot show what a stranger looks like. */
const ENOUGH = { families: 5, references: 30 };

/**
 * The evidence that only the stated share of strangers reaches: every reference is scored as if its whole family (and its
 * kin) had not been there, and families weigh alike.
 * Holds for: strangers about as unlike the references as these families are unlike one another.
 * Deceives when: a look-alike lies closer to a family than any two families of the references do.
 */
export function thresholdFor(
  model: FamilyModel,
  names: readonly string[],
  related: (a: string, b: string) => boolean,
  technique: Technique,
  falseAccepts: number,
): Threshold {
  if (!(falseAccepts > 0 && falseAccepts < 1)) {
    throw new RangeError(`false accepts: a share between 0 and 1 is needed, given ${falseAccepts}`);
  }
  const n = model.rows.length;
  const present = [...new Set(model.family)];
  const about = { falseAccepts, references: n, families: present.length };
  if (present.length < ENOUGH.families || n < ENOUGH.references) {
    return { evidence: STORED[technique], basis: 'stored', ...about };
  }
  const sizes = new Float64Array(model.families);
  for (const f of model.family) sizes[f]!++;
  const strangers: { evidence: number; weight: number }[] = [];
  for (let i = 0; i < n; i++) {
    const own = model.family[i]!;
    const others = present.filter((f) => !related(names[f]!, names[own]!));
    const score = (f: number) => model.withoutOwn[i * model.families + f]!;
    const likeness = (f: number) => bestOf(model, i, f);
    const found = evidenceOf(others, names, related, score, likeness);
    if (found !== null) strangers.push({ evidence: found.evidence, weight: 1 / sizes[own]! });
  }
  strangers.sort((a, b) => b.evidence - a.evidence);
  const whole = strangers.reduce((sum, s) => sum + s.weight, 0);
  let above = 0;
  let at = Number.POSITIVE_INFINITY;
  for (const stranger of strangers) {
    above += stranger.weight;
    at = stranger.evidence;
    if (above > falseAccepts * whole) break;
  }
  return { evidence: Math.max(at, LOWEST[technique]), basis: 'these-references', ...about };
}

const bestOf = (model: FamilyModel, row: number, family: number): number => {
  let best = -1;
  for (let j = 0; j < model.rows.length; j++) {
    if (model.family[j] === family) best = Math.max(best, model.likeness[row * model.rows.length + j]!);
  }
  return best;
};

/** The leading family and the evidence for it; null where there is no family at all. */
export function evidenceOf(
  families: readonly number[],
  names: readonly string[],
  related: (a: string, b: string) => boolean,
  score: (family: number) => number,
  likeness: (family: number) => number,
): {
  readonly family: number;
  readonly evidence: number;
  readonly lead: number;
  readonly order: readonly number[];
} | null {
  const order = [...families].sort((a, b) => score(b) - score(a));
  const first = order[0];
  if (first === undefined) return null;
  const next = order.find((f) => !related(names[f]!, names[first]!));
  const lead = next === undefined ? 0 : score(first) - score(next);
  return { family: first, evidence: evidence(likeness(first), lead), lead, order };
}
