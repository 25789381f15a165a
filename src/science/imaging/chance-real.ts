/** The chance that a find is a real piece, from how far it stands out. */
import { type Fraction, fraction } from '../../units/index.ts';
import type { Evidence } from './piece.ts';

/**
 * Logistic in the logarithm of the strength, ln √(lightness² + colour²). Read by eye from the calibration tables of
 * `npm run measure:photos` (ordinary and hard sets, tuned seeds): about 0.25 at strength 7, 0.8 at 30, 0.9 at 50.
 * Holds for drawn photographs like those; deceives where a membrane carries marks that nobody drew.
 */
const OFFSET = -4.2;
const SLOPE = 1.7;

export function chanceReal(evidence: Evidence): Fraction {
  const strength = Math.max(1e-6, Math.hypot(evidence.lightness, evidence.colour));
  return fraction(1 / (1 + Math.exp(-(OFFSET + SLOPE * Math.log(strength)))));
}
