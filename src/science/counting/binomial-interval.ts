import { betaQuantile, betaUpperQuantile, lnBinomial, normalUpperQuantile } from '../maths/index.ts';
import type { Interval } from './interval.ts';
import { checkConfidence } from './poisson-interval.ts';

function checked(k: number, n: number, confidence: number): void {
  checkConfidence(confidence);
  if (!(Number.isSafeInteger(k) && Number.isSafeInteger(n) && n > 0 && k >= 0 && k <= n)) {
    throw new RangeError(`share: k of n with 0 ≤ k ≤ n and n above 0 is needed, given ${k} of ${n}`);
  }
}

/**
 * Wilson's score interval of a share. Source: Wilson 1927, JASA 22:209; as method 3 of Newcombe 1998, Stat. Med. 17:857.
 * Holds for: any k of n; average coverage close to nominal.  Deceives when: used as a guarantee near 0 or 1 (dips below nominal).
 * Example: 81 of 263 → 0.2553 to 0.3662.
 */
export function wilsonInterval(k: number, n: number, confidence: number): Interval {
  checked(k, n, confidence);
  const z = normalUpperQuantile((1 - confidence) / 2);
  const middle = k + (z * z) / 2;
  const spread = z * Math.sqrt((z * z) / 4 + (k * (n - k)) / n);
  const size = n + z * z;
  return {
    value: k / n,
    lower: k === 0 ? 0 : (middle - spread) / size,
    upper: k === n ? 1 : (middle + spread) / size,
    confidence,
  };
}

/**
 * Wilson's interval with continuity correction. Source: Newcombe 1998, Stat. Med. 17:857, method 4.
 * Holds for: any k of n; coverage at least nominal on nearly all shares.  Deceives when: narrowness matters (it is cautious).
 */
export function wilsonContinuityInterval(k: number, n: number, confidence: number): Interval {
  checked(k, n, confidence);
  const z = normalUpperQuantile((1 - confidence) / 2);
  const p = k / n;
  const size = 2 * (n + z * z);
  const base = 2 * k + z * z;
  const low = base - 1 - z * Math.sqrt(z * z - 2 - 1 / n + 4 * p * (n * (1 - p) + 1));
  const high = base + 1 + z * Math.sqrt(z * z + 2 - 1 / n + 4 * p * (n * (1 - p) - 1));
  return {
    value: p,
    lower: k === 0 ? 0 : Math.max(0, low / size),
    upper: k === n ? 1 : Math.min(1, high / size),
    confidence,
  };
}

/**
 * Exact interval of a share. Source: Clopper & Pearson 1934, Biometrika 26:404.
 * Holds for: any k of n; coverage never below nominal.  Deceives when: narrowness matters (it is the widest of these).
 */
export function clopperPearsonInterval(k: number, n: number, confidence: number): Interval {
  checked(k, n, confidence);
  const half = (1 - confidence) / 2;
  return {
    value: k / n,
    lower: k === 0 ? 0 : betaQuantile(k, n - k + 1, half),
    upper: k === n ? 1 : betaUpperQuantile(k + 1, n - k, half),
    confidence,
  };
}

/**
 * Agresti and Coull's interval: z²/2 added to both sides, then the simple normal form; not cut at 0 and 1.
 * Source: Agresti & Coull 1998, Am. Stat. 52:119.  Deceives when: k is near 0 or n (its ends leave 0…1).
 */
export function agrestiCoullInterval(k: number, n: number, confidence: number): Interval {
  checked(k, n, confidence);
  const z = normalUpperQuantile((1 - confidence) / 2);
  const size = n + z * z;
  const p = (k + (z * z) / 2) / size;
  const spread = z * Math.sqrt((p * (1 - p)) / size);
  return { value: k / n, lower: p - spread, upper: p + spread, confidence };
}

/**
 * Exact two-sided test of a share: all counts no more likely than the one seen.
 * Source: binomial test as in Conover 1971. Example: 682 of 925 against 0.75 → p = 0.3825 (Mendel's peas).
 */
export function binomialTest(k: number, n: number, share: number): number {
  const seen = lnBinomial(k, n, share) + 1e-7;
  let p = 0;
  for (let i = 0; i <= n; i++) {
    const ln = lnBinomial(i, n, share);
    if (ln <= seen) p += Math.exp(ln);
  }
  return Math.min(1, p);
}
