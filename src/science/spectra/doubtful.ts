import type { FamilyModel } from './family-model.ts';

/** A reference whose spectrum speaks against its label. */
export interface Doubtful {
  /** Row of the model. */
  readonly row: number;
  /** The family that it is more like than its own. */
  readonly like: number;
}

/** Lead of another family over a reference's own from which its label is doubted; scores of a sure member are near 1. */
const LEAD = 0.2;
/** A smaller family, or one with a larger share of doubted members, is varied rather than mislabelled. */
const ENOUGH = { members: 5, share: 0.2 };

/**
 * References that belong to another family by everything but their label: wrong labels, blends, a coat that hides what
 * lies below. Each is scored as if it had not been there itself. One such reference lends its name to every piece like
 * it, and makes strangers look like kin, so that the threshold rises for all.
 * Holds for: families of five references or more of which a fifth at most is doubted; nothing is said of others.
 * Deceives when: several references of one sample carry the same wrong label and vouch for one another.
 */
export function doubtfulReferences(
  model: FamilyModel,
  names: readonly string[],
  related: (a: string, b: string) => boolean,
): Doubtful[] {
  const present = [...new Set(model.family)];
  const sizes = new Map<number, number>();
  for (const f of model.family) sizes.set(f, (sizes.get(f) ?? 0) + 1);
  const doubted = model.family.flatMap((own, row): Doubtful[] => {
    const score = (f: number) => model.withoutItself[row * model.families + f]!;
    const kin = present.filter((f) => related(names[f]!, names[own]!));
    const others = present.filter((f) => !kin.includes(f));
    if (others.length === 0) return [];
    const like = others.reduce((best, f) => (score(f) > score(best) ? f : best));
    return score(like) - Math.max(...kin.map(score)) > LEAD ? [{ row, like }] : [];
  });
  return doubted.filter(({ row }) => {
    const own = model.family[row]!;
    const size = sizes.get(own)!;
    const share = doubted.filter((d) => model.family[d.row] === own).length / size;
    return size >= ENOUGH.members && share <= ENOUGH.share;
  });
}
