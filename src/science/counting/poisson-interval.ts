import type { Count } from '../../units/index.ts';
import { gammaQuantile, gammaUpperQuantile } from '../maths/index.ts';
import type { Interval } from './interval.ts';

/** Refuses anything but a confidence between 0 and 1. */
export function checkConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) {
    throw new RangeError(`confidence: a number between 0 and 1 is needed, given ${confidence}`);
  }
}

function whole(found: number): void {
  if (!Number.isSafeInteger(found) || found < 0) {
    throw new RangeError(`count: a whole number from 0 is needed, given ${found}`);
  }
}

/**
 * The range of mean counts that fit a count: two-sided, each side leaves half the doubt.
 * Lower: P(≥ found | lower) = (1 − confidence)/2, 0 at none found. Upper: P(≤ found | upper) = (1 − confidence)/2.
 * Lower = ½χ²(doubt/2; 2n), upper = ½χ²(1 − doubt/2; 2n + 2).
 * Source: Garwood 1936, Biometrika 28:437–442.  Holds for: whole counts from 0 of pieces that fell independently.
 * Deceives when: pieces come in clumps or runs scatter more than Poisson; or when only part was looked at (give exposure).
 * Example: 7 found, 95 % → 2.81 to 14.42. None found, 95 % → 0 to 3.69 (two-sided; the one-sided limit is 3.00).
 */
export function countInterval(found: Count | number, confidence: number): Interval {
  whole(found);
  checkConfidence(confidence);
  const half = (1 - confidence) / 2;
  const lower = found === 0 ? 0 : gammaQuantile(found, half);
  return { value: found, lower, upper: gammaUpperQuantile(found + 1, half), confidence };
}

/**
 * One-sided upper limit of a mean count: P(≤ found | limit) = 1 − confidence. “Fewer than …”.
 * Source: Garwood 1936; at none found it is −ln(1 − confidence), 2.996 at 95 % (the rule of three).
 * Deceives when: it is read as the end of a two-sided interval (3.689 at none found, 95 %).
 */
export function countUpperLimit(found: Count | number, confidence: number): number {
  whole(found);
  checkConfidence(confidence);
  return gammaUpperQuantile(found + 1, 1 - confidence);
}

/** One-sided lower limit of a mean count: P(≥ found | limit) = 1 − confidence; 0 at none found. Source: Garwood 1936. */
export function countLowerLimit(found: Count | number, confidence: number): number {
  whole(found);
  checkConfidence(confidence);
  return found === 0 ? 0 : gammaQuantile(found, 1 - confidence);
}

/** A count over an exposure (mass, area, share examined, time) as a rate with its two-sided Garwood interval. */
export function rateInterval(found: Count | number, exposure: number, confidence: number): Interval {
  if (!(exposure > 0)) throw new RangeError(`exposure: a number above 0 is needed, given ${exposure}`);
  const { value, lower, upper } = countInterval(found, confidence);
  return { value: value / exposure, lower: lower / exposure, upper: upper / exposure, confidence };
}
