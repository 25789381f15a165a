import { normalCdf, normalQuantile, normalUpperQuantile } from '../maths/index.ts';

export interface NonNegativeNet {
  /** Net rate as measured, which may be below 0. */
  readonly net: number;
  readonly uncertainty: number;
  readonly decisionThreshold: number;
  readonly detectionLimit: number;
  /** Probability of a true net above 0 under the normal form. */
  readonly chancePositive: number;
  readonly lower: number;
  readonly upper: number;
  /** Estimate that keeps to true nets from 0. */
  readonly bestEstimate: number;
  readonly bestUncertainty: number;
}

/**
 * Net rate in the form of ISO 11929-1: gross n_g in t_g, background n_0 in t_0, true net known not to be below 0.
 * y* = k√(r₀(1/t_g + 1/t_0)), y# = 2y* + k²/t_g (alpha = beta), limits and best estimate from the cut-off normal.
 * Source: ISO 11929-1 (formulae from memory; symbols and best estimate confirmed by a public tutorial).
 * Holds for: counts of about 20 and more.
 * Deceives when: counts are low (normal form), at n_0 = 0 the threshold is 0; blanks more scattered than Poisson.
 */
export function nonNegativeNet(
  gross: number,
  grossTime: number,
  background: number,
  backgroundTime: number,
  alpha = 0.05,
  gamma = 0.05,
): NonNegativeNet {
  if (!(grossTime > 0 && backgroundTime > 0)) {
    throw new RangeError(`effort: two numbers above 0 are needed, given ${grossTime} and ${backgroundTime}`);
  }
  const k = normalUpperQuantile(alpha);
  const rate = background / backgroundTime;
  const net = gross / grossTime - rate;
  // with nothing counted on either side the normal form has no width: one count stands for none, as its standard error
  const variance = gross / grossTime ** 2 + background / backgroundTime ** 2;
  const uncertainty = Math.sqrt(variance > 0 ? variance : 1 / grossTime ** 2);
  const decisionThreshold = k * Math.sqrt(rate * (1 / grossTime + 1 / backgroundTime));
  const chancePositive = normalCdf(net / uncertainty);
  const bump =
    Math.exp(-(net * net) / (2 * uncertainty * uncertainty)) / (chancePositive * Math.sqrt(2 * Math.PI));
  const bestEstimate = net + uncertainty * bump;
  return {
    net,
    uncertainty,
    decisionThreshold,
    detectionLimit: 2 * decisionThreshold + (k * k) / grossTime,
    chancePositive,
    lower: net - normalQuantile(chancePositive * (1 - gamma / 2)) * uncertainty,
    upper: net + normalUpperQuantile((chancePositive * gamma) / 2) * uncertainty,
    bestEstimate,
    bestUncertainty: Math.sqrt(Math.max(0, uncertainty * uncertainty - (bestEstimate - net) * bestEstimate)),
  };
}
