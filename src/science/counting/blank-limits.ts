import { chiSquareUpperQuantile, studentUpperQuantile } from '../maths/index.ts';

export interface BlankSpread {
  readonly mean: number;
  /** Standard deviation with n − 1. */
  readonly sd: number;
  readonly blanks: number;
}

/** Mean and standard deviation (n − 1) of at least two blanks. */
export function blankSpread(counts: readonly number[]): BlankSpread {
  if (counts.length < 2)
    throw new RangeError(`blanks: at least 2 are needed for a spread, given ${counts.length}`);
  const mean = counts.reduce((sum, x) => sum + x, 0) / counts.length;
  const squares = counts.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return { mean, sd: Math.sqrt(squares / (counts.length - 1)), blanks: counts.length };
}

/**
 * Mean + k·SD of the blanks: k = 3 “limit of detection”, k = 10 “limit of quantification”.
 * Source: convention after Long & Winefordner 1983, Anal. Chem. 55:712A (from memory, unverified).
 * Holds for: continuous readings with a well-known normal spread.
 * Deceives when: counts are low or blanks few: from 3 Poisson blanks it gives 6.5–10 % false detections, not 0.1 %, and
 * three equal blanks give a spread of 0.
 */
export const meanPlusSd = (spread: BlankSpread, k: number): number => spread.mean + k * spread.sd;

/**
 * Critical level of one further reading with Student's t: mean + t·s·√(1 + 1/n).
 * Source: form of ISO 11843.  Holds for: readings near normal.
 * Deceives when: counts are low; blanks happen to be equal (s = 0).
 */
export const studentCriticalLevel = (spread: BlankSpread, alpha = 0.05): number =>
  spread.mean + studentUpperQuantile(alpha, spread.blanks - 1) * spread.sd * Math.sqrt(1 + 1 / spread.blanks);

/**
 * Method detection limit from n replicates spiked near the limit: t₀.₉₉(n − 1)·s, with the range that χ² leaves to it.
 * Source: 40 CFR 136 App. B, t and factors as printed in Wis. Admin. Code NR 252.0365 (7 replicates: 0.69 and 1.92,
 * which are the 5 % and 95 % points of χ²: each a one-sided 95 % limit, together a 90 % interval).
 * Holds for: continuous readings.  Deceives when: readings are low counts.
 */
export function methodDetectionLimit(
  sd: number,
  replicates: number,
): { limit: number; lower: number; upper: number } {
  const df = replicates - 1;
  const limit = studentUpperQuantile(0.01, df) * sd;
  return {
    limit,
    lower: limit * Math.sqrt(df / chiSquareUpperQuantile(0.05, df)),
    upper: limit * Math.sqrt(df / chiSquareUpperQuantile(0.95, df)),
  };
}
