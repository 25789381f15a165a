import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import { betaQuantile, betaUpperQuantile, gaussLegendre, lnBetaDensity, lnBinomial } from '../maths/index.ts';
import type { Interval } from './interval.ts';
import { checkConfidence } from './poisson-interval.ts';

/** A corrected share that could leave 0…1, and whether it did. */
export interface CorrectedShare {
  /** Kept to 0…1. */
  readonly value: number;
  readonly unclipped: number;
  readonly clipped: boolean;
}

export interface DrillRefusal extends Refusal {
  readonly why: 'test-tells-nothing';
}

/**
 * Share of true pieces behind an observed share, for a test that keeps `sensitivity` of true pieces and turns away
 * `specificity` of the others: (observed + specificity − 1)/(sensitivity + specificity − 1).
 * Source: Rogan & Gladen 1978, Am. J. Epidemiol. 107:71.
 * Holds for: both rates well known.
 * Deceives when: the observed share is under the false-positive floor 1 − specificity (the result is clipped to 0, and
 * that is said: it is not “none”), or the rates come from a small drill (use `correctedShareInterval`).
 * Example: 0.60 observed at 0.95 and 0.90 → 0.588; 0.05 → −0.0588, clipped.
 */
export function correctedShare(
  observed: number,
  sensitivity: number,
  specificity: number,
): Outcome<CorrectedShare, DrillRefusal> {
  for (const share of [observed, sensitivity, specificity]) {
    if (!(share >= 0 && share <= 1))
      throw new RangeError(`share: a number from 0 to 1 is needed, given ${share}`);
  }
  const tells = sensitivity + specificity - 1;
  if (!(tells > 0)) {
    return refused({
      why: 'test-tells-nothing',
      message: `With sensitivity ${sensitivity} and specificity ${specificity} the test does not tell pieces apart: their sum must be above 1.`,
    });
  }
  const unclipped = (observed + specificity - 1) / tells;
  const value = Math.min(1, Math.max(0, unclipped));
  return done({ value, unclipped, clipped: value !== unclipped });
}

const NODES = 14;
const GRID = 240;

function betaNodes(a: number, b: number): { at: number; weight: number }[] {
  const low = betaQuantile(a, b, 1e-9);
  const high = betaUpperQuantile(a, b, 1e-9);
  const { points, weights } = gaussLegendre(NODES);
  return [...points].map((p, i) => {
    const at = (low + high) / 2 + ((high - low) / 2) * p;
    return { at, weight: weights[i]! * Math.exp(lnBetaDensity(a, b, at)) };
  });
}

/**
 * Share of true pieces with its interval, when the test's rates themselves come from a drill: `passed` of `tested`
 * pieces, `truePositive` and `falsePositive` kept of shown. Even prior for the share and for both rates; the rates are
 * summed out by quadrature, the share read off a grid. The interval holds equal tails and always lies within 0…1.
 * Source: Bayes' rule on the model of Rogan & Gladen 1978; priors are a project choice.
 * Holds for: tested pieces drawn at random, drill pieces like them.
 * Deceives when: drill pieces were easier than real ones.
 */
export function correctedShareInterval(
  passed: number,
  tested: number,
  truePositive: readonly [number, number],
  falsePositive: readonly [number, number],
  confidence: number,
): Interval {
  checkConfidence(confidence);
  const sensitivity = betaNodes(truePositive[0] + 1, truePositive[1] - truePositive[0] + 1);
  const floor = betaNodes(falsePositive[0] + 1, falsePositive[1] - falsePositive[0] + 1);
  const density = Float64Array.from({ length: GRID }, (_, g) => {
    const share = (g + 0.5) / GRID;
    let sum = 0;
    for (const s of sensitivity) {
      for (const f of floor) {
        // a rate pair that tells nothing is possible but says nothing of the share: it stays in with its weight
        sum += s.weight * f.weight * Math.exp(lnBinomial(passed, tested, share * s.at + (1 - share) * f.at));
      }
    }
    return sum;
  });
  const total = density.reduce((sum, d) => sum + d, 0);
  const below = (p: number): number => {
    let sum = 0;
    for (let g = 0; g < GRID; g++) {
      const next = sum + density[g]! / total;
      if (next >= p) return (g + (p - sum) / (next - sum)) / GRID;
      sum = next;
    }
    return 1;
  };
  const half = (1 - confidence) / 2;
  return { value: below(0.5), lower: below(half), upper: below(1 - half), confidence };
}

/**
 * Chance that a piece is true after a test: odds × sensitivity/(1 − specificity) for a pass, odds × (1 − sensitivity)/
 * specificity for a fail.
 * Source: Bayes' rule.  Holds for: tests that err independently of each other.
 * Deceives when: the same eye did both (the combined chance is then an upper bound on confidence).
 * Example: prior 0.68, pass at 0.90 and 0.82 → 0.914.
 */
export function chanceAfterTest(
  prior: number,
  outcome: 'pass' | 'fail',
  sensitivity: number,
  specificity: number,
): number {
  const ifTrue = outcome === 'pass' ? sensitivity : 1 - sensitivity;
  const ifNot = outcome === 'pass' ? 1 - specificity : specificity;
  const seen = prior * ifTrue + (1 - prior) * ifNot;
  if (!(seen > 0))
    throw new RangeError('chance after a test: this outcome cannot occur with the rates given');
  return (prior * ifTrue) / seen;
}
