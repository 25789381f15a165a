import { describe, expect, it } from 'vitest';
import { bandsOf } from './materials.ts';
import type { Spectrum } from './spectrum.ts';
import { withoutFilter } from './subtract-filter.ts';

const drawn = (shares: Readonly<Record<string, number>>, from = 600): Spectrum => {
  const axis = Float64Array.from({ length: Math.round((4000 - from) / 3) }, (_, k) => from + 3 * k);
  const height = axis.map((x) => {
    let y = 0.1 + x / 40_000;
    for (const [family, share] of Object.entries(shares)) {
      for (const band of bandsOf(family, 'infrared')) y += share * Math.exp(-0.5 * ((x - band) / 12) ** 2);
    }
    return y;
  });
  return { title: 'drawn', technique: 'infrared', axis, height, taken: [] };
};

describe('the filter under a piece', () => {
  const filter = drawn({ 'cellulose/plant': 1 });
  it('is taken off by as much as there is of it', () => {
    const { spectrum, share } = withoutFilter(drawn({ PE: 0.8, 'cellulose/plant': 0.35 }), filter);
    expect(share).toBeGreaterThan(0.33);
    expect(share).toBeLessThan(0.37);
    const alone = drawn({ PE: 0.8 });
    // Bands above their own base, so that the filter's sloped base does not matter.
    for (const at of [1030, 1315]) {
      const k = spectrum.axis.findIndex((x) => x >= at);
      const local = (s: Spectrum) => s.height[k]! - (s.height[k - 20]! + s.height[k + 20]!) / 2;
      expect(local(spectrum)).toBeCloseTo(local(alone), 1);
    }
    expect(spectrum.taken.join(' ')).toMatch(/filter’s own spectrum is taken off/);
  });

  it('is left where none of it shows', () => {
    const query = drawn({ PS: 0.8 });
    expect(withoutFilter(query, filter).share).toBeLessThan(0.12);
  });

  it('takes nothing off beyond its range', () => {
    const query = drawn({ 'cellulose/plant': 0.5 });
    const { spectrum } = withoutFilter(query, drawn({ 'cellulose/plant': 1 }, 1500));
    expect(spectrum.height.every(Number.isFinite)).toBe(true);
  });

  it('of another technique cannot be taken off', () => {
    expect(() => withoutFilter({ ...filter, technique: 'raman' }, filter)).toThrow(RangeError);
  });
});
