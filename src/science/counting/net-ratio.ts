import { done, type Outcome, refused } from '../../units/index.ts';
import { findRoot } from '../maths/index.ts';
import type { DesignRefusal } from './design-refusal.ts';
import type { Interval } from './interval.ts';

/** A ratio whose upper end may be unknown: null means that no upper limit can be given, not that there is none. */
export interface RatioInterval {
  readonly value: number;
  readonly lower: number;
  readonly upper: number | null;
  readonly confidence: number;
}

/**
 * Ratio of two net releases (two products, before and after) from their intervals: the ratios R at which the
 * difference first − R·second has a limit of 0, limits of differences joined from the limits of their parts.
 * Source: Zou & Donner 2008, Stat. Med. 27:1693 (limits of differences); Donner & Zou 2012, Stat. Methods Med. Res. 21:347 (ratios).
 * Holds for: a second net clearly above 0; independent nets.
 * Deceives when: both nets share one background (they rise and fall together: the interval is then too wide), or the
 * second may be none (no upper limit, and that is said).
 */
export function netRatio(first: Interval, second: Interval): Outcome<RatioInterval, DesignRefusal> {
  if (!(second.value > 0)) {
    return refused({
      why: 'nothing-below-the-line',
      message: `The second net is ${second.value}: a ratio needs one above 0. Compare the difference instead.`,
    });
  }
  const value = first.value / second.value;
  const down = first.value - first.lower;
  const up = first.upper - first.value;
  const gap = (r: number, side: 'lower' | 'upper'): number => {
    const growing = second.upper - second.value;
    const shrinking = second.value - second.lower;
    const positive = r >= 0;
    // with a negative ratio the second's limits change places
    const reach =
      side === 'lower'
        ? -Math.hypot(down, r * (positive ? growing : shrinking))
        : Math.hypot(up, r * (positive ? shrinking : growing));
    return first.value - r * second.value + reach;
  };
  const far = (Math.abs(first.value) + down + up + 1) / second.value;
  let low = value - far;
  while (gap(low, 'lower') <= 0 && low > value - 1e9 * far) low -= value - low;
  if (gap(low, 'lower') <= 0) {
    return refused({
      why: 'nothing-below-the-line',
      message: 'The second net is too uncertain for a ratio: compare the difference instead.',
    });
  }
  const lower = findRoot((r) => gap(r, 'lower'), low, value);
  if (second.lower <= 0) return done({ value, lower, upper: null, confidence: first.confidence });
  let high = value + far;
  while (gap(high, 'upper') >= 0 && high < value + 1e9 * far) high += high - value;
  const upper = gap(high, 'upper') < 0 ? findRoot((r) => gap(r, 'upper'), value, high) : null;
  return done({ value, lower, upper, confidence: first.confidence });
}
