import { done, type Outcome, refused } from '../../units/index.ts';
import { chanceFrom, normalUpperQuantile, shuffled, studentUpperQuantile } from '../maths/index.ts';
import type { DesignRefusal } from './design-refusal.ts';
import type { Interval } from './interval.ts';
import { checkConfidence } from './poisson-interval.ts';

export interface DosePoint {
  /** Pieces in the liquid, minutes, cuts: whatever was doubled. */
  readonly dose: number;
  readonly count: number;
  /** passed × examined. */
  readonly effort: number;
}

export interface DoseResult {
  /** Particles more for each unit of dose, per whole run. */
  readonly slope: Interval;
  /** What would be there at dose 0: background of liquid, vessel and act together. */
  readonly atNone: number;
  /** One-sided chance of a slope this large if the dose did nothing (relabelling of doses). */
  readonly p: number;
  /** Scatter about the line over Poisson, never below 1. */
  readonly scatter: number;
}

const MOST_ORDERS = 5040;
const ORDERS_DRAWN = 9999;

interface Line {
  readonly slope: number;
  readonly atNone: number;
  readonly variance: number;
}

/** Weighted line through rates; weights: effort over the larger of the fitted mean and a floor, twice improved. */
function lineOf(points: readonly DosePoint[]): Line {
  const total = points.reduce((s, p) => s + p.count, 0);
  const efforts = points.reduce((s, p) => s + p.effort, 0);
  // half a count spread over all runs keeps a weight finite where none was found
  const floor = 0.5 / efforts;
  let mean = points.map(() => Math.max(floor, total / efforts));
  let line: Line = { slope: 0, atNone: 0, variance: 0 };
  for (let turn = 0; turn < 5; turn++) {
    const weights = points.map((p, i) => p.effort / mean[i]!);
    const sum = weights.reduce((s, w) => s + w, 0);
    const dose = weights.reduce((s, w, i) => s + w * points[i]!.dose, 0) / sum;
    const rate = weights.reduce((s, w, i) => s + (w * points[i]!.count) / points[i]!.effort, 0) / sum;
    const spread = weights.reduce((s, w, i) => s + w * (points[i]!.dose - dose) ** 2, 0);
    const slope =
      weights.reduce(
        (s, w, i) => s + w * (points[i]!.dose - dose) * (points[i]!.count / points[i]!.effort),
        0,
      ) / spread;
    line = { slope, atNone: rate - slope * dose, variance: 1 / spread };
    mean = points.map((p) => Math.max(floor, line.atNone + line.slope * p.dose));
  }
  return line;
}

/**
 * Slope of counts over dose (none, one, two, four pieces in the same liquid). A background that is the same at every dose
 * moves the line up and leaves the slope alone, so it needs no blank. Weighted least squares with Poisson weights, widened
 * by the scatter about the line; the decision by handing the doses out anew among the runs.
 * Source: McCullagh & Nelder 1989, Generalized Linear Models, §9.2 (quasi-likelihood); Fisher 1935 (relabelling).
 * Holds for: at least 5 runs over 3 doses.
 * Deceives when: the background itself grows with dose (more handling for more pieces), or the liquid saturates.
 */
export function doseSlope(
  points: readonly DosePoint[],
  confidence: number,
  seed = 1,
): Outcome<DoseResult, DesignRefusal> {
  checkConfidence(confidence);
  const doses = new Set(points.map((p) => p.dose));
  if (points.length < 5 || doses.size < 3) {
    return refused({
      why: 'too-few-doses',
      message: `${points.length} runs over ${doses.size} doses are too few: at least 5 runs over 3 doses are needed.`,
    });
  }
  if (points.some((p) => !(p.effort > 0))) {
    return refused({
      why: 'efforts-missing',
      message: 'A run of the series was not looked at: leave it out.',
    });
  }
  const line = lineOf(points);
  const floor = 0.5 / points.reduce((s, p) => s + p.effort, 0);
  const degrees = points.length - 2;
  const scatter = Math.max(
    1,
    points.reduce((s, p) => {
      const mean = Math.max(floor, line.atNone + line.slope * p.dose);
      return s + (p.effort * (p.count / p.effort - mean) ** 2) / mean;
    }, 0) / degrees,
  );
  const reach = studentUpperQuantile((1 - confidence) / 2, degrees);
  // with no scatter to estimate, the normal deviate would do; Student's is the cautious one
  const half =
    Math.max(reach, normalUpperQuantile((1 - confidence) / 2)) * Math.sqrt(line.variance * scatter);
  const rates = points.map((p) => p.count / p.effort);
  const pull = (given: readonly number[]): number => given.reduce((s, d, i) => s + d * rates[i]!, 0);
  const list = points.map((p) => p.dose);
  const seen = pull(list) - 1e-9;
  let asFar = 0;
  let looked = 0;
  let orders = 1;
  for (let i = 2; i <= points.length; i++) orders *= i;
  if (orders <= MOST_ORDERS) {
    everyOrder(list, (order) => {
      looked++;
      if (pull(order) >= seen) asFar++;
    });
  } else {
    const chance = chanceFrom(seed);
    looked = ORDERS_DRAWN + 1;
    asFar = 1;
    for (let draw = 0; draw < ORDERS_DRAWN; draw++) if (pull(shuffled(chance, list)) >= seen) asFar++;
  }
  return done({
    slope: { value: line.slope, lower: line.slope - half, upper: line.slope + half, confidence },
    atNone: line.atNone,
    p: asFar / looked,
    scatter,
  });
}

/** Calls back with every order of the list (Heap 1963). */
function everyOrder(list: readonly number[], seen: (order: readonly number[]) => void): void {
  const order = [...list];
  const turn = (n: number): void => {
    if (n === 1) {
      seen(order);
      return;
    }
    for (let i = 0; i < n; i++) {
      turn(n - 1);
      const j = n % 2 === 0 ? i : 0;
      [order[j], order[n - 1]] = [order[n - 1]!, order[j]!];
    }
  };
  turn(order.length);
}
