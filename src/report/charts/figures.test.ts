import { describe, expect, it } from 'vitest';
import { axisTicks, figure, percent } from './figures.ts';

describe('figure', () => {
  it('prints no more digits than mean something', () => {
    expect(figure(3.1449)).toBe('3.14');
    expect(figure(12.5)).toBe('12.5');
    expect(figure(0.0423)).toBe('0.0423');
    expect(figure(4)).toBe('4');
    expect(figure(2.0)).toBe('2');
    expect(figure(0)).toBe('0');
  });
  it('groups thousands with a thin space and uses a real minus sign', () => {
    expect(figure(12345)).toBe('12\u202f345');
    expect(figure(-2.5)).toBe('\u22122.5');
  });
  it('turns to powers of ten beyond a million and below a thousandth', () => {
    expect(figure(2_500_000)).toBe('2.5 × 10⁶');
    expect(figure(0.00042)).toBe('4.2 × 10⁻⁴');
  });
  it('refuses what is not a number', () => {
    expect(() => figure(Number.NaN)).toThrow(RangeError);
    expect(() => figure(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

describe('percent', () => {
  it('is 0 % or 100 % only when exactly so', () => {
    expect(percent(0)).toBe('0 %');
    expect(percent(1)).toBe('100 %');
    expect(percent(0.004)).toBe('0.4 %');
    expect(percent(0.00001)).toBe('under 0.1 %');
    expect(percent(0.996)).toBe('99.6 %');
    expect(percent(0.99999)).toBe('over 99.9 %');
    expect(percent(0.5)).toBe('50 %');
  });
});

describe('axisTicks', () => {
  it('steps by 1, 2 or 5 and holds both ends', () => {
    expect(axisTicks(0, 17, 8)).toEqual([0, 5, 10, 15, 20]);
    expect(axisTicks(0, 8, 8)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect(axisTicks(-3, 11, 4)).toEqual([-5, 0, 5, 10, 15]);
    expect(axisTicks(0, 0.7, 4)).toEqual([0, 0.2, 0.4, 0.6, 0.8]);
  });
  it('refuses an axis without extent', () => {
    expect(() => axisTicks(2, 2, 4)).toThrow(RangeError);
  });
});
