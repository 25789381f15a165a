import { binomialAtLeast, findRoot, firstWhole, lnPoisson, poissonAtLeast } from '../maths/index.ts';

/**
 * Smallest gross count that stands above a background counted as `blankCount` over `blankEfforts` times the specimen's
 * effort: smallest y with P[Bin(x + y, 1/(m + 1)) ≥ y] ≤ alpha.
 * Source: Przyborowski & Wilenski 1940, Biometrika 31:313–323; Currie 2006 (ACS Symp. Ser. 945) for 0 against 5.
 * Holds for: any counts from 0, Poisson on both sides.
 * Deceives when: controls scatter more than Poisson (then false detections exceed alpha whatever their number).
 * Example: one blank of 0 → 5; three blanks totalling 0 → 3.
 */
export function exactDecisionCount(blankCount: number, blankEfforts: number, alpha = 0.05): number {
  if (!(blankEfforts > 0)) throw new RangeError(`efforts: a number above 0 is needed, given ${blankEfforts}`);
  const share = 1 / (blankEfforts + 1);
  return firstWhole((y) => binomialAtLeast(y, blankCount + y, share) <= alpha, 1);
}

/**
 * Smallest gross count that stands above a background whose mean is known: smallest y with P(Poisson(B) ≥ y) ≤ alpha.
 * Source: Poisson tail, worked here.  Deceives when: the mean is itself estimated from few blanks.
 */
export function knownDecisionCount(background: number, alpha = 0.05): number {
  return firstWhole((y) => poissonAtLeast(y, background) <= alpha, 1);
}

/**
 * Smallest true net mean that reaches a decision count with chance 1 − beta over a known background mean B:
 * P(Poisson(B + net) ≥ y_c) = 1 − beta.
 * Source: Currie 1968 (definition), solved exactly.  Example: B → 0 with y_c = 1 gives 2.996.
 */
export function exactDetectionLimit(background: number, decisionCount: number, beta = 0.05): number {
  const missed = (net: number): number => poissonAtLeast(decisionCount, background + net) - (1 - beta);
  let high = decisionCount + 5;
  if (missed(0) >= 0) return 0;
  while (missed(high) < 0) high *= 2;
  return findRoot(missed, 0, high);
}

/** Chance that a true net is called above the background when both sides are counted: summed over what the controls may show. */
export function detectionChance(net: number, background: number, blankEfforts: number, alpha = 0.05): number {
  const mean = background * blankEfforts;
  const reach = 8 * Math.sqrt(mean + 1) + 8;
  const from = Math.max(0, Math.floor(mean - reach));
  let chance = 0;
  for (let x = from; x <= mean + reach; x++) {
    const share = Math.exp(lnPoisson(x, mean));
    if (share < 1e-12) continue;
    chance += share * poissonAtLeast(exactDecisionCount(x, blankEfforts, alpha), background + net);
  }
  return Math.min(1, chance);
}

/**
 * Exact detection limit when the background is counted, not known: the net mean that the exact conditional rule calls
 * with chance 1 − beta, averaged over what the controls may show at background mean B per specimen effort.
 * Source: Currie 1968 (definition), summed exactly here.
 */
export function pairedDetectionLimit(
  background: number,
  blankEfforts: number,
  alpha = 0.05,
  beta = 0.05,
): number {
  const gap = (net: number): number => detectionChance(net, background, blankEfforts, alpha) - (1 - beta);
  let high = exactDecisionCount(Math.round(background * blankEfforts), blankEfforts, alpha) + 5;
  while (gap(high) < 0) high *= 1.5;
  return findRoot(gap, 0, high, 1e-9);
}
