import { studentUpperQuantile } from '../maths/index.ts';
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
 * The evidence that only the stated share of strangers reaches. Every reference is scored as if its whole family (and its
 * kin) had not been there; a stranger belongs to none of these families, so families and not spectra are the sample.
 * The threshold is the larger of
 * (a) the evidence reached by the stated share of all references, families weighing alike, and
 * (b) an upper prediction limit for the next family: mean + t·s·√(1 + 1/n) of the evidence that the stated share of each
 *     family reaches, t Student's quantile at 1 − 2.5 times the share (95 % at 2 %). With few families it is wide, and is
 *     held to the stored threshold.
 * Source of (b): prediction interval for one further observation, e.g. Hahn & Meeker 1991, §2.3; that a family's
 * evidence scatters about normally is our assumption, held against families left out (docs/methods/spectra.md).
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
  const strangers = asStrangers(model, names, related);
  const limit = nextFamily(strangers, falseAccepts);
  const evidence = Math.max(
    reachedByShare(strangers, falseAccepts),
    Math.min(limit, STORED[technique]),
    LOWEST[technique],
  );
  return { evidence, basis: 'these-references', ...about };
}

/** The evidence of every reference as a stranger, family by family, the highest first. */
function asStrangers(
  model: FamilyModel,
  names: readonly string[],
  related: (a: string, b: string) => boolean,
): number[][] {
  const present = [...new Set(model.family)];
  return present
    .map((own) => {
      const others = present.filter((f) => !related(names[f]!, names[own]!));
      const found = model.family.flatMap((family, i) => {
        if (family !== own) return [];
        const score = (f: number) => model.withoutOwn[i * model.families + f]!;
        const one = evidenceOf(others, names, related, score, (f) => bestOf(model, i, f));
        return one === null ? [] : [one.evidence];
      });
      return found.sort((a, b) => b - a);
    })
    .filter((found) => found.length > 0);
}

/** The evidence that no more than this share reaches, families weighing alike. */
function reachedByShare(strangers: readonly (readonly number[])[], share: number): number {
  const all = strangers
    .flatMap((found) => found.map((evidence) => ({ evidence, weight: 1 / found.length })))
    .sort((a, b) => b.evidence - a.evidence);
  let above = 0;
  for (const one of all) {
    above += one.weight;
    if (above > share * strangers.length) return one.evidence;
  }
  return all.at(-1)!.evidence;
}

/** Below which the evidence of the next family stays, but for the stated share of its spectra. */
function nextFamily(strangers: readonly (readonly number[])[], share: number): number {
  const reached = strangers.map((found) => found[Math.floor(share * found.length)]!);
  const n = reached.length;
  const mean = reached.reduce((sum, e) => sum + e, 0) / n;
  const s = Math.sqrt(reached.reduce((sum, e) => sum + (e - mean) ** 2, 0) / (n - 1));
  return mean + studentUpperQuantile(Math.min(0.5, 2.5 * share), n - 1) * s * Math.sqrt(1 + 1 / n);
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
