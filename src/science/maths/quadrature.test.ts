import { describe, expect, it } from 'vitest';
import { findLowest, findRoot, firstWhole, gaussHermite, gaussLegendre, integrate } from './index.ts';

describe('rules of quadrature', () => {
  it('five Legendre points as printed (Abramowitz & Stegun 1964, table 25.4)', () => {
    const { points, weights } = gaussLegendre(5);
    expect(points[4]).toBeCloseTo(0.906179845938664, 14);
    expect(points[3]).toBeCloseTo(0.538469310105683, 14);
    expect(weights[2]).toBeCloseTo(0.568888888888889, 14);
    expect(weights[4]).toBeCloseTo(0.236926885056189, 14);
  });

  it.each([1, 2, 7, 20, 41, 64])('%i Hermite points give the moments of the normal distribution', (n) => {
    const { points, weights } = gaussHermite(n);
    const moment = (k: number): number => points.reduce((sum, z, i) => sum + weights[i]! * z ** k, 0);
    expect(moment(0)).toBeCloseTo(1, 12);
    expect(moment(1)).toBeCloseTo(0, 12);
    if (n >= 2) expect(moment(2)).toBeCloseTo(1, 12);
    if (n >= 7) expect(moment(8)).toBeCloseTo(105, 9);
  });

  it('integrates a peak and a curve with an end of infinite slope', () => {
    expect(integrate((x) => Math.exp((-x * x) / 2), -12, 12)).toBeCloseTo(Math.sqrt(2 * Math.PI), 10);
    expect(integrate(Math.sqrt, 0, 1)).toBeCloseTo(2 / 3, 8);
  });
});

describe('roots', () => {
  it('finds where a curve crosses zero', () => {
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 12);
    expect(findRoot((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 12);
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(RangeError);
  });

  it('finds the first whole number and the lowest point', () => {
    expect(firstWhole((n) => n * n >= 5000)).toBe(71);
    expect(firstWhole(() => true, 3)).toBe(3);
    expect(findLowest((x) => (x - 1.7) ** 2, -5, 10)).toBeCloseTo(1.7, 6);
  });
});
