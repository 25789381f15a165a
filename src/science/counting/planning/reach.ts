import { estimateNet } from '../net-estimate.ts';
import { asCounts } from './as-counted.ts';
import { mayClaim, smallestSeen } from './detection.ts';
import type { PlanWish } from './plan-wish.ts';
import { typicalStudies } from './typical-study.ts';

/**
 * Upper limit per gram of a typical study when nothing is released: the best “fewer than” that a design has within
 * reach; null where runs so few
 * may claim nothing. Held against drawn studies judged one by one in the test.
 */
export function limitWithinReach(
  wish: PlanWish,
  specimens: number,
  controls: number,
  spikes: number,
): number | null {
  if (!mayClaim(wish, specimens, controls)) return null;
  let sum = 0;
  for (const { study, weight } of typicalStudies(wish, { specimens, controls, spikes })) {
    const answer = estimateNet(asCounts(study, wish.confidence));
    if (!answer.ok) return null;
    sum += weight * answer.value.upperLimit;
  }
  return sum;
}

export interface NextRun {
  readonly adds: 'two controls' | 'two specimen runs' | 'two controls and two specimen runs';
  readonly specimens: number;
  readonly controls: number;
  readonly hours: number;
  readonly limitPerGram: number | null;
  readonly smallestSeen80: number | null;
}

export interface Reach {
  readonly limitPerGram: number | null;
  readonly smallestSeen80: number | null;
  readonly smallestSeen95: number | null;
  readonly more: readonly NextRun[];
}

/** With what there is: the best claim within reach, and what two more runs of each kind would do to it. */
export function withinReach(wish: PlanWish, specimens: number, controls: number, spikes: number): Reach {
  const step = (adds: NextRun['adds'], n: number, m: number): NextRun => ({
    adds,
    specimens: n,
    controls: m,
    hours: (n - specimens) * wish.hours.specimen + (m - controls) * wish.hours.control,
    limitPerGram: limitWithinReach(wish, n, m, spikes),
    smallestSeen80: smallestSeen(wish, n, m, 0.8),
  });
  return {
    limitPerGram: limitWithinReach(wish, specimens, controls, spikes),
    smallestSeen80: smallestSeen(wish, specimens, controls, 0.8),
    smallestSeen95: smallestSeen(wish, specimens, controls, 0.95),
    more: [
      step('two controls', specimens, controls + 2),
      step('two specimen runs', specimens + 2, controls),
      step('two controls and two specimen runs', specimens + 2, controls + 2),
    ],
  };
}
