import { normalUpperQuantile } from '../maths/index.ts';

export interface SizeLimits {
  readonly pairs: number;
  /** Mean of first − second (or of the log ratio). */
  readonly bias: number;
  readonly biasError: number;
  readonly spread: number;
  /** Between these lie about 95 % of differences. */
  readonly lower: number;
  readonly upper: number;
}

/**
 * Bias and limits of agreement of two readings of the same things: mean difference ± 1.96 standard deviations.
 * Source: Bland & Altman 1986, Lancet 327:307. Holds for: differences that do not grow with size (give logarithms of sizes:
 * bias and limits are then ratios). Deceives when: fewer than about 30 pairs: the limits themselves are uncertain by √(3/n) sd.
 * Example: their 17 pairs of peak flow → −2.1, from −78 to 74 (printed with 2 in place of 1.96: −79.7 to 75.5).
 */
export function sizeLimits(
  first: readonly number[],
  second: readonly number[],
  confidence = 0.95,
): SizeLimits {
  if (first.length !== second.length || first.length < 2)
    throw new RangeError(
      `limits of agreement: two pairs or more are needed, given ${first.length} and ${second.length}`,
    );
  const differences = first.map((x, i) => x - second[i]!);
  const n = differences.length;
  const bias = differences.reduce((sum, d) => sum + d, 0) / n;
  const spread = Math.sqrt(differences.reduce((sum, d) => sum + (d - bias) ** 2, 0) / (n - 1));
  const z = normalUpperQuantile((1 - confidence) / 2);
  return {
    pairs: n,
    bias,
    biasError: spread / Math.sqrt(n),
    spread,
    lower: bias - z * spread,
    upper: bias + z * spread,
  };
}
