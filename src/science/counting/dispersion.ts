import { chiSquareUpper, digamma, findRoot } from '../maths/index.ts';

export interface Dispersion {
  readonly runs: number;
  readonly mean: number;
  /** Variance over mean, n − 1 (1 for Poisson). */
  readonly index: number;
  readonly chiSquare: number;
  readonly degrees: number;
  /** Chance of at least this scatter if counts were Poisson. */
  readonly p: number;
}

function checked(counts: readonly number[], efforts: readonly number[]): void {
  if (counts.length < 2)
    throw new RangeError(`dispersion: at least 2 counts are needed, given ${counts.length}`);
  if (efforts.length !== counts.length) {
    throw new RangeError(
      `dispersion: one effort for each count is needed, given ${efforts.length} for ${counts.length}`,
    );
  }
}

/**
 * Whether counts scatter more than Poisson: χ² = Σ (x − e·r)²/(e·r) with the common rate r, on n − 1 degrees of freedom.
 * Source: Fisher, Thornton & Mackenzie 1922, Ann. Appl. Biol. 9:325 (index of dispersion).
 * Holds for: expected counts of about 1 and more, or many runs.
 * Deceives when: few runs at low mean: scatter is then easily missed (a good p is no proof of Poisson).
 * Example: Student 1907, sample 1 (400 squares): χ² 475.7, p = 0.0049.
 */
export function dispersionTest(
  counts: readonly number[],
  efforts: readonly number[] = counts.map(() => 1),
): Dispersion {
  checked(counts, efforts);
  const total = counts.reduce((sum, x) => sum + x, 0);
  const effort = efforts.reduce((sum, e) => sum + e, 0);
  const degrees = counts.length - 1;
  const mean = total / counts.length;
  // none found anywhere: no scatter was seen, and none could have been
  if (total === 0) return { runs: counts.length, mean, index: 1, chiSquare: 0, degrees, p: 1 };
  const rate = total / effort;
  const chiSquare = counts.reduce(
    (sum, x, i) => sum + (x - efforts[i]! * rate) ** 2 / (efforts[i]! * rate),
    0,
  );
  return {
    runs: counts.length,
    mean,
    index: chiSquare / degrees,
    chiSquare,
    degrees,
    p: chiSquareUpper(chiSquare, degrees),
  };
}

export type Scatter =
  | { readonly kind: 'no more than Poisson'; readonly mean: number }
  /** Variance is mean + mean²/shape. */
  | { readonly kind: 'beyond Poisson'; readonly mean: number; readonly shape: number };

/**
 * Negative binomial fit by maximum likelihood: the shape k where Σ[ψ(x + k) − ψ(k)] = n ln(1 + mean/k).
 * When the variance (n) is not above the mean the likelihood rises to Poisson, and that is said.
 * Source: Bliss & Fisher 1953, Biometrics 9:176–200 (red mites on 150 leaves: k = 1.02459).
 * Holds for: equal efforts.  Deceives when: fewer than about 10 counts: the shape is then hardly known.
 */
export function scatterFit(counts: readonly number[]): Scatter {
  checked(counts, counts);
  const n = counts.length;
  const mean = counts.reduce((sum, x) => sum + x, 0) / n;
  const variance = counts.reduce((sum, x) => sum + (x - mean) ** 2, 0) / n;
  if (variance <= mean) return { kind: 'no more than Poisson', mean };
  const byValue = new Map<number, number>();
  for (const x of counts) byValue.set(x, (byValue.get(x) ?? 0) + 1);
  const score = (lnK: number): number => {
    const k = Math.exp(lnK);
    let sum = -n * Math.log1p(mean / k);
    for (const [x, times] of byValue) if (x > 0) sum += times * (digamma(x + k) - digamma(k));
    return sum;
  };
  const start = Math.log((mean * mean) / (variance - mean));
  let low = start - 1;
  let high = start + 1;
  // the score is positive below the best shape and negative above
  while (score(low) < 0 && low > -40) low -= 1;
  while (score(high) > 0 && high < 25) high += 1;
  if (score(high) > 0) return { kind: 'no more than Poisson', mean };
  return { kind: 'beyond Poisson', mean, shape: Math.exp(findRoot(score, low, high, 1e-11)) };
}

/** Moment estimate of the shape: mean²/(s² − mean), s² with n − 1; Infinity where s² ≤ mean. Source: Bliss & Fisher 1953. */
export function momentShape(counts: readonly number[]): number {
  checked(counts, counts);
  const mean = counts.reduce((sum, x) => sum + x, 0) / counts.length;
  const variance = counts.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (counts.length - 1);
  return variance > mean ? (mean * mean) / (variance - mean) : Infinity;
}
