import { normalUpperQuantile } from '../maths/index.ts';

/** Net counts: above `critical` is “detected”; a true net of `detection` is detected with the wanted chance. */
export interface CurrieLimits {
  readonly critical: number;
  readonly detection: number;
  /** True net that is measured with a relative standard deviation of 10 %. */
  readonly determination: number;
}

/** Below this expected background the normal forms deceive; project choice after Currie's own warning. */
export const LOW_BACKGROUND = 20;

/**
 * Currie's limits for a net count against a background counted over `blankEfforts` times the specimen's effort.
 * L_C = k√(B(1 + 1/m)), L_D = k² + 2 L_C, L_Q = 50[1 + √(1 + B(1 + 1/m)/25)]; m = 1 is the paired case
 * (2.33√B, 2.71 + 4.65√B), m = ∞ the well-known background (1.64√B, 2.71 + 3.29√B).
 * Source: Currie 1968, Anal. Chem. 40:586–593 (paired and well-known; L_Q from memory, unverified).
 * Holds for: expected background B of about 20 and more, Poisson.
 * Deceives when: B is small (at B = 0 a single piece would be “detected”: take `exact-threshold.ts`), or blanks
 * scatter more than Poisson.
 */
export function currieLimits(background: number, blankEfforts = 1, alpha = 0.05): CurrieLimits {
  if (!(background >= 0)) throw new RangeError(`background: a number from 0 is needed, given ${background}`);
  if (!(blankEfforts > 0)) throw new RangeError(`efforts: a number above 0 is needed, given ${blankEfforts}`);
  const k = normalUpperQuantile(alpha);
  const variance = background * (1 + 1 / blankEfforts);
  const critical = k * Math.sqrt(variance);
  return {
    critical,
    detection: k * k + 2 * critical,
    determination: 50 * (1 + Math.sqrt(1 + variance / 25)),
  };
}
