import { lnHypergeometric, normalUpperQuantile } from '../maths/index.ts';
import type { Interval } from './interval.ts';

/**
 * How many pieces there are, when two scorers found n₁ and n₂ and m were found by both: (n₁+1)(n₂+1)/(m+1) − 1.
 * Interval: of the pieces missed by both, log-normal about the estimate, from Seber's variance
 * (n₁+1)(n₂+1)(n₁−m)(n₂−m)/((m+1)²(m+2)); never below the pieces that were seen.
 * Source: Chapman 1951, Univ. Calif. Publ. Stat. 1:131; Seber 1970, Biometrics 26:13; Chao 1987, Biometrics 43:783 (interval).
 * Holds for: independent scorers, each piece as easy to find as the next.
 * Deceives when: both miss the same faint pieces: the true number is then higher (read it as a lower bound).
 */
export function piecesByTwoScorers(
  first: number,
  second: number,
  both: number,
  confidence: number,
): Interval {
  for (const n of [first, second, both]) {
    if (!Number.isSafeInteger(n) || n < 0)
      throw new RangeError(`pieces: a whole number from 0 is needed, given ${n}`);
  }
  if (both > Math.min(first, second)) {
    throw new RangeError(
      `pieces found by both: at most ${Math.min(first, second)} is possible, given ${both}`,
    );
  }
  const value = ((first + 1) * (second + 1)) / (both + 1) - 1;
  const variance =
    ((first + 1) * (second + 1) * (first - both) * (second - both)) / ((both + 1) ** 2 * (both + 2));
  const seen = first + second - both;
  const unseen = value - seen;
  if (!(unseen > 0) || variance === 0)
    return { value, lower: seen, upper: Math.max(value, seen), confidence };
  const z = normalUpperQuantile((1 - confidence) / 2);
  const factor = Math.exp(z * Math.sqrt(Math.log1p(variance / unseen ** 2)));
  return { value, lower: seen + unseen / factor, upper: seen + unseen * factor, confidence };
}

/** Mean of the estimate when there truly are `pieces`: it equals them when first + second ≥ pieces (Chapman's unbiasedness). */
export function meanEstimate(pieces: number, first: number, second: number): number {
  let mean = 0;
  for (let m = Math.max(0, first + second - pieces); m <= Math.min(first, second); m++) {
    const estimate = ((first + 1) * (second + 1)) / (m + 1) - 1;
    mean += estimate * Math.exp(lnHypergeometric(m, pieces, first, second));
  }
  return mean;
}
