import { done, type Outcome } from '../../units/index.ts';
import { normalUpperQuantile } from '../maths/index.ts';
import type { CountingInput } from './counting-input.ts';
import { meetsAmountMinimum } from './design-minimum.ts';
import type { Interval } from './interval.ts';
import type { NetRefusal } from './joint/net-input.ts';
import { estimateNetRelease, type NetRelease } from './joint/net-release.ts';
import { effortUncertainty, meldedNet } from './melded-net.ts';

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

/** An interval with a relative standard uncertainty joined to both its reaches (in squares, after Zou & Donner 2008). */
function widened(of: Interval, relative: number): Interval {
  if (relative === 0) return of;
  const more = Math.abs(of.value) * relative * normalUpperQuantile((1 - of.confidence) / 2);
  return {
    ...of,
    lower: of.value - Math.hypot(of.value - of.lower, more),
    upper: of.value + Math.hypot(of.upper - of.value, more),
  };
}

/**
 * Net per gram by the joint model where there are runs enough for it, else by melded exact limits. The uncertainty of
 * what was looked at is joined to the joint model's interval.
 */
export function estimateNet(input: CountingInput, seed?: number): Outcome<NetEstimate, NetRefusal> {
  if (!meetsAmountMinimum(input.portions.length, input.controls.length)) {
    return done({ ...meldedNet(input), joint: null });
  }
  const joint = estimateNetRelease({
    specimens: input.portions,
    controls: input.controls,
    spikes: input.spikes ?? (input.recovery ? [input.recovery] : []),
    drill: input.drill,
    confidence: input.confidence,
    ...(input.history ? { history: input.history } : {}),
    ...(input.confirmation ? { confirmation: input.confirmation } : {}),
    ...(seed === undefined ? {} : { seed }),
  });
  if (!joint.ok) return joint;
  const relative = effortUncertainty(input);
  const perGram = widened(joint.value.perGram, relative);
  return done({
    perGram,
    upperLimit: joint.value.upperLimitPerGram + (perGram.upper - joint.value.perGram.upper),
    limitHeld: joint.value.upperLimitHeld,
    scatter: 1,
    joint: joint.value,
  });
}
