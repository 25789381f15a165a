import { describe, expect, it } from 'vitest';
import known from './counting.known.json' with { type: 'json' };
import {
  approximateOneSigmaLimits,
  countInterval,
  countLowerLimit,
  countUpperLimit,
  oneSigmaLimits,
  rateInterval,
} from './index.ts';

describe('interval of a count (Garwood 1936, Biometrika 28:437)', () => {
  // values of the formula ½χ², recomputed with scipy and R
  const table: [number, number, number][] = [
    [0, 0, 3.688879],
    [1, 0.025318, 5.571643],
    [2, 0.242209, 7.224688],
    [3, 0.618672, 8.767273],
    [4, 1.089865, 10.241589],
    [5, 1.623486, 11.668332],
    [6, 2.201894, 13.059474],
    [7, 2.814363, 14.422675],
    [8, 3.453832, 15.763189],
    [9, 4.115373, 17.084803],
    [10, 4.795389, 18.390356],
    [15, 8.395386, 24.74022],
    [20, 12.21652, 30.888378],
    [30, 20.240874, 42.826865],
    [50, 37.110964, 65.918767],
    [100, 81.363991, 121.626794],
  ];
  it.each(table)('%i found, 95 %%', (n, lower, upper) => {
    const found = countInterval(n, 0.95);
    expect(found.lower).toBeCloseTo(lower, 5);
    expect(found.upper).toBeCloseTo(upper, 5);
  });

  it('agrees with frozen scipy values at three confidences', () => {
    for (const [n, confidence, lower, upper] of known.garwood as [number, number, number, number][]) {
      const found = countInterval(n, confidence);
      expect(Math.abs(found.lower - lower)).toBeLessThanOrEqual(1e-9 * Math.max(1, lower));
      expect(Math.abs(found.upper - upper)).toBeLessThanOrEqual(1e-9 * upper);
    }
  });

  it('keeps one-sided and two-sided apart: 2.996 and 3.689 at none found (epitools, pois.exact)', () => {
    expect(countUpperLimit(0, 0.95)).toBeCloseTo(2.995732, 6);
    expect(countInterval(0, 0.95).upper).toBeCloseTo(3.688879, 6);
    const oneSided = [2.995732, 4.743865, 6.295794, 7.753657, 9.153519, 10.513035];
    oneSided.forEach((limit, n) => {
      expect(countUpperLimit(n, 0.95)).toBeCloseTo(limit, 5);
    });
    expect(countLowerLimit(3, 0.975)).toBeCloseTo(0.618672, 6);
  });

  it('a count of none never has an interval without width', () => {
    for (const confidence of [0.5, 0.8, 0.95, 0.999])
      expect(countInterval(0, confidence).upper).toBeGreaterThan(0);
  });

  it('takes an exposure: 137 in 24.19893 → 5.6614 (4.7531 to 6.6927) (R, poisson.test help)', () => {
    const found = rateInterval(137, 24.19893, 0.95);
    expect(found.value).toBeCloseTo(5.661407, 6);
    expect(found.lower).toBeCloseTo(4.753125, 6);
    expect(found.upper).toBeCloseTo(6.692709, 6);
  });

  it('refuses what is no count', () => {
    expect(() => countInterval(-1, 0.95)).toThrow(/given -1/);
    expect(() => countInterval(1.5, 0.95)).toThrow(RangeError);
    expect(() => countInterval(1, 95)).toThrow(/confidence/);
    expect(() => rateInterval(1, 0, 0.95)).toThrow(/exposure/);
  });
});

describe('one-sigma limits (Gehrels 1986, Astrophys. J. 303:336, tables 1 and 2)', () => {
  // n, lower, upper (printed rounded to three decimals), approximations by his equations
  const table: [number, number, number, number, number, number][] = [
    [0, 0, 1.841, 1.866, 1.8258, 0],
    [1, 0.1728, 3.2995, 3.3229, 3.2873, 0.1715],
    [2, 0.7082, 4.6379, 4.6583, 4.6274, 0.712],
    [3, 1.3673, 5.9182, 5.9365, 5.9089, 1.3723],
    [4, 2.0857, 7.1628, 7.1794, 7.1543, 2.091],
    [5, 2.8403, 8.3825, 8.3979, 8.3747, 2.8456],
    [6, 3.6201, 9.5836, 9.5981, 9.5764, 3.6252],
    [7, 4.4185, 10.7703, 10.7839, 10.7635, 4.4235],
    [8, 5.2316, 11.9451, 11.958, 11.9387, 5.2365],
    [9, 6.0565, 13.1102, 13.1225, 13.1041, 6.0613],
    [10, 6.8913, 14.2669, 14.2787, 14.2611, 6.8959],
    [20, 15.5656, 25.5465, 25.5552, 25.5423, 15.5691],
    [50, 42.9527, 58.1182, 58.1239, 58.1155, 42.9551],
  ];
  it.each(table)('%i found', (n, lower, upper, simple, cubic, low) => {
    const exact = oneSigmaLimits(n);
    expect(Math.abs(exact.lower - lower)).toBeLessThan(6e-5);
    expect(Math.abs(exact.upper - upper)).toBeLessThan(6e-5);
    const near = approximateOneSigmaLimits(n);
    expect(Math.abs(near.upperSimple - simple)).toBeLessThan(6e-5);
    expect(Math.abs(near.upperCubic - cubic)).toBeLessThan(6e-5);
    expect(Math.abs(near.lower - low)).toBeLessThan(6e-5);
  });
});
