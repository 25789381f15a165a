import { describe, expect, it } from 'vitest';
import { celsius, count, fraction, grams, mm, mmToUm, px, pxToUm, um, umPerPx, umToPx } from './index.ts';

describe('quantities', () => {
  it('convert between filter and photograph', () => {
    expect(mmToUm(mm(3.1))).toBe(3100);
    expect(pxToUm(px(100), umPerPx(4.2))).toBeCloseTo(420, 12);
    expect(umToPx(um(420), umPerPx(4.2))).toBeCloseTo(100, 12);
  });

  it.each([
    ['a length below 0', () => um(-1)],
    ['a length that is no number', () => um(Number.NaN)],
    ['an endless mass', () => grams(Number.POSITIVE_INFINITY)],
    ['a scale of 0', () => umPerPx(0)],
    ['a fraction above 1', () => fraction(1.01)],
    ['half a particle', () => count(0.5)],
    ['fewer than no particles', () => count(-1)],
  ])('refuse %s', (_what, make) => {
    expect(make).toThrow(RangeError);
  });

  it('allow temperatures below 0', () => {
    expect(celsius(-18)).toBe(-18);
  });
});
