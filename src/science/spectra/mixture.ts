/** Two references that together explain a spectrum better than either. */
export interface Mixture {
  readonly first: number;
  readonly second: number;
  /** Shares of the explained signal (not of mass or volume), the larger first. */
  readonly shares: readonly [number, number];
  /** Share of the query's sum of squares explained by the pair, and by the better of the two alone. */
  readonly explained: number;
  readonly alone: number;
}

/**
 * Non-negative least squares over pairs of references of different families, on slopes that add up as absorbances do.
 * Named only where the pair explains at least `least` and a tenth more than the best single reference.
 * Deceives when: bands of one substance shift or saturate; a shared band then looks like a second substance.
 */
export function findMixture(
  query: Float64Array,
  references: readonly Float64Array[],
  family: readonly number[],
  least = 0.85,
): Mixture | null {
  const size = dot(query, query);
  if (!(size > 0)) return null;
  const norm = references.map((r) => dot(r, r));
  const cross = references.map((r) => dot(query, r));
  const single = references.map((_, i) =>
    norm[i]! > 0 && cross[i]! > 0 ? cross[i]! ** 2 / norm[i]! / size : 0,
  );
  const alone = Math.max(0, ...single);
  let best: Mixture | null = null;
  for (let i = 0; i < references.length; i++) {
    for (let j = 0; j < i; j++) {
      if (family[i] === family[j]) continue;
      const both = dot(references[i]!, references[j]!);
      const det = norm[i]! * norm[j]! - both * both;
      if (!(det > 1e-9 * norm[i]! * norm[j]!)) continue;
      const a = (cross[i]! * norm[j]! - cross[j]! * both) / det;
      const b = (cross[j]! * norm[i]! - cross[i]! * both) / det;
      if (!(a > 0 && b > 0)) continue;
      const explained = (a * cross[i]! + b * cross[j]!) / size;
      if (explained <= (best?.explained ?? 0)) continue;
      const [p, q] = [a * Math.sqrt(norm[i]!), b * Math.sqrt(norm[j]!)];
      const share = p / (p + q);
      best =
        share >= 0.5
          ? { first: i, second: j, shares: [share, 1 - share], explained, alone }
          : { first: j, second: i, shares: [1 - share, share], explained, alone };
    }
  }
  return best !== null && best.explained >= least && best.explained >= alone + 0.1 && best.shares[1] >= 0.15
    ? best
    : null;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
