import { done, type Outcome } from '../../units/index.ts';
import type { CountingInput } from './counting-input.ts';
import { FEWEST_RUNS } from './design-minimum.ts';
import type { Interval } from './interval.ts';
import type { NetRefusal } from './joint/net-input.ts';
import { estimateNetRelease, type NetRelease } from './joint/net-release.ts';
import { meldedNet } from './melded-net.ts';

export interface NetEstimate {
  readonly perGram: Interval;
  /** One-sided. */
  readonly upperLimit: number;
  /** True when the limit rests on “none found” rather than on a background higher than the count. */
  readonly limitHeld: boolean;
  /** Index of scatter by which a plain interval was widened (1: not; the joint model has its own scatter). */
  readonly scatter: number;
  /** The joint model's whole answer; null where there are too few runs for it. */
  readonly joint: NetRelease | null;
}

/**
 * Net per gram by the joint model where there are three runs on each side, else by melded exact limits (which rest on
 * Poisson scatter). The uncertainty of
 * what was looked at is in both.
 */
export function estimateNet(input: CountingInput, seed?: number): Outcome<NetEstimate, NetRefusal> {
  if (Math.min(input.portions.length, input.controls.length) < FEWEST_RUNS) {
    return done({ ...meldedNet(input), joint: null });
  }
  const joint = estimateNetRelease({
    specimens: input.portions,
    controls: input.controls,
    spikes: input.spikes ?? (input.recovery ? [input.recovery] : []),
    drill: input.drill,
    confidence: input.confidence,
    ...(input.strata ? { strata: input.strata } : {}),
    ...(input.history ? { history: input.history } : {}),
    ...(input.confirmation ? { confirmation: input.confirmation } : {}),
    ...(seed === undefined ? {} : { seed }),
  });
  if (!joint.ok) return joint;
  return done({
    perGram: joint.value.perGram,
    upperLimit: joint.value.upperLimitPerGram,
    limitHeld: joint.value.upperLimitHeld,
    scatter: 1,
    joint: joint.value,
  });
}
