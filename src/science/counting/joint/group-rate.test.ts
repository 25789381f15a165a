import { describe, expect, it } from 'vitest';
import { conditionalTest } from '../index.ts';
import { groupRate } from './group-rate.ts';
import { differenceBelow, valueAt } from './knowledge.ts';

const runs = (counts: readonly number[], fraction = 1) => counts.map((count) => ({ count, fraction }));
/** A history that allows no scatter at all. */
const noScatter = (s2: number): number => -1e7 * s2;

describe('rate of a group of runs', () => {
  it('gives Garwood’s exact Poisson limits when runs do not scatter', () => {
    // Garwood 1936: n = 10 → 4.795389 to 18.390356; n = 3 → 0.618672 to 8.767273
    for (const [counts, low, high] of [
      [[2, 3, 1, 4], 4.795389, 18.390356],
      [[1, 0, 1, 1], 0.618672, 8.767273],
    ] as const) {
      const rate = groupRate(runs(counts), { history: noScatter });
      expect(Math.abs((valueAt(rate.low, 0.025) * 4) / low - 1)).toBeLessThan(0.01);
      expect(Math.abs((valueAt(rate.high, 0.975) * 4) / high - 1)).toBeLessThan(0.01);
      expect(rate.rate).toBe(counts.reduce<number>((s, c) => s + c, 0) / 4);
    }
    const none = groupRate(runs([0, 0, 0]), { history: noScatter });
    expect(Math.abs((valueAt(none.high, 0.975) * 3) / 3.688879 - 1)).toBeLessThan(0.012);
    expect(Math.abs(valueAt(none.low, 0.025))).toBeLessThan(1e-9);
  });

  it('gives the exact conditional test of two Poisson counts when runs do not scatter', () => {
    // Przyborowski & Wilenski's test; 10 against 3 at equal effort: one-sided p = 0.04614258 (R poisson.test)
    const more = groupRate(runs([6, 4]), { history: noScatter });
    const less = groupRate(runs([2, 1]), { history: noScatter });
    const p = differenceBelow(more.low, less.high)(0);
    expect(Math.abs(p - 0.04614258)).toBeLessThan(0.001);
    expect(conditionalTest(10, 2, 3, 2)).toBeCloseTo(0.04614258, 7);
  });

  it('counts a run by the share that was looked at', () => {
    const whole = groupRate(runs([8, 10, 6, 12]));
    const half = groupRate(runs([8, 10, 6, 12], 0.5));
    expect(half.rate).toBe(2 * whole.rate);
    expect(valueAt(half.high, 0.975)).toBeCloseTo(2 * valueAt(whole.high, 0.975), 6);
  });

  it('widens with scatter, and says how much it saw', () => {
    const calm = groupRate(runs([20, 21, 19, 22, 18, 20]));
    const wild = groupRate(runs([2, 60, 8, 35, 5, 10]));
    expect(wild.rate).toBe(calm.rate);
    expect(valueAt(wild.high, 0.975)).toBeGreaterThan(1.5 * valueAt(calm.high, 0.975));
    expect(valueAt(wild.scatter, 0.025)).toBeGreaterThan(0.4);
    expect(valueAt(calm.scatter, 0.5)).toBeLessThan(0.2);
  });

  it('recovers the scatter of mites on leaves (Bliss & Fisher 1953: maximum likelihood shape 1.02459)', () => {
    const frequencies = [70, 38, 17, 10, 9, 3, 2, 1];
    const leaves = frequencies.flatMap((n, count) => Array.from({ length: n }, () => count));
    const rate = groupRate(runs(leaves));
    expect(rate.rate).toBeCloseTo(1.146667, 6);
    const shape = 1 / valueAt(rate.scatter, 0.5) ** 2;
    expect(Math.abs(shape / 1.02459 - 1)).toBeLessThan(0.1);
  });

  it('does not move with a finer reading of unequal fractions', () => {
    const together = groupRate(runs([3, 5, 2, 4], 0.5));
    const apart = groupRate([3, 5, 2, 4].map((count, i) => ({ count, fraction: 0.5 + i * 1e-12 })));
    expect(valueAt(apart.high, 0.975)).toBeCloseTo(valueAt(together.high, 0.975), 6);
  });

  it('refuses no runs, part counts and nothing looked at', () => {
    expect(() => groupRate([])).toThrow(RangeError);
    expect(() => groupRate([{ count: 1.5, fraction: 1 }])).toThrow(RangeError);
    expect(() => groupRate([{ count: 1, fraction: 0 }])).toThrow(RangeError);
  });
});
