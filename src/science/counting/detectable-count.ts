import { normalUpperQuantile } from '../maths/index.ts';

/**
 * Minimum detectable (net) count: k² + 2k√(B(1 + 1/m)), with background B expected on the specimen and blanks of m times
 * its effort; the classic 2.71 + 4.65√B at m = 1 and k = 1.645. Some papers write 3 in place of 2.71 (k² at a Poisson tail).
 * Source: Currie 1968, Anal. Chem. 40:586; divide by mass, share passed and examined, and recovery for an amount.
 * Holds for: Poisson blanks, expected background of about 20 and more.
 * Deceives when: blanks scatter more than Poisson (real ones do), or it is used to decide about a count already made.
 */
export function minimumDetectableCount(background: number, blankEfforts = 1, alpha = 0.05): number {
  const k = normalUpperQuantile(alpha);
  return k * k + 2 * k * Math.sqrt(background * (1 + 1 / blankEfforts));
}
