import { normalCdf } from '../maths/index.ts';
import { countLowerLimit, countUpperLimit } from './poisson-interval.ts';

/**
 * Single-sided limits of a count at S standard deviations of the normal distribution (S = 1: confidence 0.8413 a side).
 * Source: Gehrels 1986, Astrophys. J. 303:336–346, tables 1 and 2 (exact values).
 * Holds for: whole counts from 0.
 * Deceives when: the pair is read as a 95 % interval (together they hold 68 %), or added in quadrature when lopsided.
 */
export function oneSigmaLimits(found: number, sigmas = 1): { lower: number; upper: number } {
  const confidence = normalCdf(sigmas);
  return { lower: countLowerLimit(found, confidence), upper: countUpperLimit(found, confidence) };
}

/**
 * Gehrels' closed forms for the same limits: upper by his equations 7 and 9, lower by 12 (lower: none at 0 found).
 * Upper: n + 1 + √(n + ¾) and (n+1)[1 − 1/(9(n+1)) + 1/(3√(n+1))]³; lower: n[1 − 1/(9n) − 1/(3√n)]³.
 * Source: Gehrels 1986.  Holds for: S = 1; within 1.5 % of the exact upper, 1 % of the exact lower limit.
 * Deceives when: used for other confidence levels; take the exact limits, they cost nothing.
 */
export function approximateOneSigmaLimits(found: number): {
  upperSimple: number;
  upperCubic: number;
  lower: number;
} {
  const n = found + 1;
  return {
    upperSimple: n + Math.sqrt(found + 0.75),
    upperCubic: n * (1 - 1 / (9 * n) + 1 / (3 * Math.sqrt(n))) ** 3,
    lower: found === 0 ? 0 : found * (1 - 1 / (9 * found) - 1 / (3 * Math.sqrt(found))) ** 3,
  };
}
