import {
  binomialLower,
  findRoot,
  firstWhole,
  lnHypergeometric,
  lnSumExp,
  normalUpperQuantile,
} from '../maths/index.ts';

/**
 * How many of N pieces to test so that a share is known to ± margin (worst case: a share of one half).
 * n₀ = z²·¼/margin², n = n₀/(1 + (n₀ − 1)/N), rounded up.
 * Source: Cochran 1977, Sampling Techniques, §4.4.  Holds for: pieces drawn at random.
 * Deceives when: shares near 0 or 1 (an exact interval is lopsided), or pieces were picked by look.
 * Example: of 50, ± 10 % at 95 % → 33.1, so 34.
 */
export function sampleSize(pieces: number, margin: number, confidence: number): number {
  if (!(Number.isSafeInteger(pieces) && pieces > 0)) {
    throw new RangeError(`pieces: a whole number above 0 is needed, given ${pieces}`);
  }
  return Math.ceil(sampleSizeUnrounded(pieces, margin, confidence) - 1e-9);
}

/** The same before rounding up. */
export function sampleSizeUnrounded(pieces: number, margin: number, confidence: number): number {
  if (!(margin > 0 && margin < 1)) throw new RangeError(`margin: between 0 and 1 is needed, given ${margin}`);
  const z = normalUpperQuantile((1 - confidence) / 2);
  const endless = (z * z) / (4 * margin * margin);
  return endless / (1 + (endless - 1) / pieces);
}

/**
 * Least true share when all n tested pieces passed: (1 − confidence)^(1/n), one-sided.
 * Source: Clopper & Pearson 1934, k = n.  Holds for: n drawn at random from very many.
 * Deceives when: the test itself errs. Example: 10 of 10 → at least 74 %; 60 of 60 → at least 95 %.
 */
export const allPassedShare = (tested: number, confidence: number): number =>
  (1 - confidence) ** (1 / tested);

/**
 * The same when the tested pieces are a good part of all N: the fewest true ones among N with which n of n would still
 * pass with chance above 1 − confidence (hypergeometric). Exact.
 */
export function allPassedFewest(tested: number, pieces: number, confidence: number): number {
  if (!(tested > 0 && tested <= pieces)) {
    throw new RangeError(`tested: from 1 to ${pieces} is needed, given ${tested}`);
  }
  return firstWhole(
    (marked) =>
      marked >= pieces || Math.exp(lnHypergeometric(tested, pieces, marked, tested)) > 1 - confidence,
    tested,
  );
}

/** Exact interval of how many of N are true when k of n tested were (test-based, two-sided, hypergeometric). */
export function trueAmongAll(
  k: number,
  tested: number,
  pieces: number,
  confidence: number,
): { lower: number; upper: number } {
  if (!(k >= 0 && k <= tested && tested > 0 && tested <= pieces)) {
    throw new RangeError(`k of n of N is needed with k ≤ n ≤ N, given ${k}, ${tested}, ${pieces}`);
  }
  const half = (1 - confidence) / 2;
  const atLeast = (marked: number): number => {
    const terms: number[] = [];
    for (let i = k; i <= Math.min(tested, marked); i++)
      terms.push(lnHypergeometric(i, pieces, marked, tested));
    return Math.exp(lnSumExp(terms));
  };
  const atMost = (marked: number): number => {
    const terms: number[] = [];
    for (let i = Math.max(0, tested - (pieces - marked)); i <= k; i++) {
      terms.push(lnHypergeometric(i, pieces, marked, tested));
    }
    return Math.exp(lnSumExp(terms));
  };
  const lower = firstWhole((m) => m >= pieces || atLeast(m) > half, k);
  const untrue = firstWhole((m) => m >= pieces || atMost(pieces - m) > half, tested - k);
  return { lower, upper: pieces - untrue };
}

/** Share whose chance of at most k among n equals 1 − confidence: one-sided upper limit of a share. */
export function shareUpperLimit(k: number, n: number, confidence: number): number {
  if (k >= n) return 1;
  return findRoot((p) => binomialLower(k, n, p) - (1 - confidence), 0, 1);
}
