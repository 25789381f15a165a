import {
  betaQuantile,
  betaUpperQuantile,
  binomialAtLeast,
  binomialLower,
  lnBinomial,
  lnPoisson,
} from '../maths/index.ts';
import type { Interval } from './interval.ts';

export type Side = 'greater' | 'less' | 'two-sided';

function checked(k1: number, e1: number, k2: number, e2: number): void {
  for (const k of [k1, k2]) {
    if (!Number.isSafeInteger(k) || k < 0)
      throw new RangeError(`count: a whole number from 0 is needed, given ${k}`);
  }
  for (const e of [e1, e2]) {
    if (!(e > 0 && e < Infinity)) throw new RangeError(`exposure: a number above 0 is needed, given ${e}`);
  }
}

/**
 * Whether two counts have the same rate, given their total: k₁ of k₁ + k₂ is binomial with share e₁/(e₁ + e₂).
 * Two-sided: all splits that are no more likely than the one seen.
 * Source: Przyborowski & Wilenski 1940, Biometrika 31:313–323.
 * Holds for: any counts from 0; keeps its level exactly (it is cautious at low counts).
 * Deceives when: either side scatters more than Poisson.
 * Example: 3 against 0 at equal effort → one-sided p = 0.125.
 */
export function conditionalTest(
  k1: number,
  e1: number,
  k2: number,
  e2: number,
  side: Side = 'greater',
): number {
  checked(k1, e1, k2, e2);
  const n = k1 + k2;
  const share = e1 / (e1 + e2);
  if (n === 0) return 1;
  if (side === 'greater') return binomialAtLeast(k1, n, share);
  if (side === 'less') return binomialLower(k1, n, share);
  // a tie must not be lost to rounding: chances within 1e-7 count as equal (the same slack as R's binom.test)
  const seen = lnBinomial(k1, n, share) + 1e-7;
  let p = 0;
  for (let k = 0; k <= n; k++) {
    const ln = lnBinomial(k, n, share);
    if (ln <= seen) p += Math.exp(ln);
  }
  return Math.min(1, p);
}

/**
 * Ratio of two rates with its exact conditional interval (Clopper–Pearson on the split, turned into odds).
 * Source: Przyborowski & Wilenski 1940; Clopper & Pearson 1934.
 * Holds for: at least one count in all. The upper end is Infinity when the second count is 0: no upper limit is known.
 */
export function rateRatio(k1: number, e1: number, k2: number, e2: number, confidence: number): Interval {
  checked(k1, e1, k2, e2);
  if (k1 + k2 === 0)
    throw new RangeError('ratio of rates: at least one count above 0 is needed, given 0 and 0');
  const half = (1 - confidence) / 2;
  const ratio = (p: number): number => ((p / (1 - p)) * e2) / e1;
  return {
    value: k2 === 0 ? Infinity : ((k1 / k2) * e2) / e1,
    lower: k1 === 0 ? 0 : ratio(betaQuantile(k1, k2 + 1, half)),
    upper: k2 === 0 ? Infinity : ratio(betaUpperQuantile(k1 + 1, k2, half)),
    confidence,
  };
}

function chances(mean: number): { from: number; chance: number[] } {
  const chance: number[] = [];
  let from = 0;
  for (let k = 0; k < mean + 40 * Math.sqrt(mean + 1) + 40; k++) {
    const p = Math.exp(lnPoisson(k, mean));
    if (p < 1e-16) {
      if (k < mean) from = k + 1;
      else break;
    } else chance.push(p);
  }
  return { from, chance };
}

/**
 * E-test of equal rates: the standardised difference, judged by its exact distribution at the pooled rate.
 * Source: Krishnamoorthy & Thomson 2004, J. Stat. Plan. Inference 119:23–35.
 * Holds for: counts from 0; stronger than the conditional test, level close to nominal.
 * Deceives when: the pooled rate is badly known (it is a plug-in: the level can be slightly exceeded); scatter beyond Poisson.
 * Example: 3 against 0 at equal effort → two-sided p = 0.0884.
 */
export function eTest(k1: number, e1: number, k2: number, e2: number, side: Side = 'greater'): number {
  checked(k1, e1, k2, e2);
  if (k1 + k2 === 0) return 1;
  const rate = (k1 + k2) / (e1 + e2);
  const far = (x1: number, x2: number): number => {
    const variance = x1 / e1 ** 2 + x2 / e2 ** 2;
    return variance === 0 ? Number.NaN : (x1 / e1 - x2 / e2) / Math.sqrt(variance);
  };
  const seen = far(k1, k2);
  const slack = 1e-12 * Math.abs(seen);
  const first = chances(rate * e1);
  const second = chances(rate * e2);
  let p = 0;
  first.chance.forEach((p1, i) => {
    second.chance.forEach((p2, j) => {
      const t = far(first.from + i, second.from + j);
      const asFar =
        side === 'greater'
          ? t >= seen - slack
          : side === 'less'
            ? t <= seen + slack
            : Math.abs(t) >= Math.abs(seen) - slack;
      if (asFar) p += p1 * p2;
    });
  });
  return Math.min(1, p);
}
