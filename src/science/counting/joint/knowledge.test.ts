import { describe, expect, it } from 'vitest';
import { gammaQuantile, normalQuantile } from '../../maths/index.ts';
import {
  differenceBelow,
  fromBelow,
  fromDensity,
  known,
  productOf,
  quotientBelow,
  shareBelow,
  solveBelow,
  valueAt,
} from './knowledge.ts';

function normalTable(mean: number, sd: number) {
  const at = Float64Array.from({ length: 401 }, (_, i) => mean + sd * (-6 + (12 * i) / 400));
  return fromDensity(
    at,
    at.map((x) => Math.exp(-0.5 * ((x - mean) / sd) ** 2)),
  );
}

describe('tables of knowledge', () => {
  it('subtracts two normals (means subtract, variances add)', () => {
    const below = differenceBelow(normalTable(10, 3), normalTable(4, 4));
    for (const p of [0.025, 0.5, 0.975]) {
      expect(solveBelow(below, p, 6, 5)).toBeCloseTo(6 + 5 * normalQuantile(p), 2);
    }
  });

  it('divides by an exact number without loss, whatever its size', () => {
    const a = normalTable(10, 3);
    const below = quotientBelow(a, known(1e6));
    for (const x of [4, 10, 13]) expect(below(x / 1e6)).toBeCloseTo(shareBelow(a, x), 6);
  });

  it('subtracts an exact nought without loss, however large the other side', () => {
    const a = normalTable(5000, 30);
    for (const x of [4940, 5000, 5060])
      expect(differenceBelow(a, known(0))(x)).toBeCloseTo(shareBelow(a, x), 9);
  });

  it('gives Fieller’s limits for a quotient of normals', () => {
    // Fieller 1954 with z² = 1.959964²: (ab ± z√(a²s² + b²t² − z²s²t²)) / (b² − z²t²) for means a, b and variances s², t²
    const [a, s, b, t] = [12, 2, 4, 0.4];
    const below = quotientBelow(normalTable(a, s), normalTable(b, t));
    const z2 = normalQuantile(0.975) ** 2;
    const root = Math.sqrt(z2 * (a * a * t * t + b * b * s * s - z2 * s * s * t * t));
    for (const [p, sign] of [
      [0.025, -1],
      [0.975, 1],
    ] as const) {
      const fieller = (a * b + sign * root) / (b * b - z2 * t * t);
      expect(Math.abs(solveBelow(below, p, 3, 0.6) / fieller - 1)).toBeLessThan(0.002);
    }
  });

  it('divides negative values too', () => {
    const below = quotientBelow(normalTable(-12, 2), normalTable(4, 0.4));
    const mirror = quotientBelow(normalTable(12, 2), normalTable(4, 0.4));
    for (const q of [-4, -3, -2]) expect(below(q)).toBeCloseTo(1 - mirror(-q), 4);
  });

  it('multiplies: a gamma times a constant is a gamma', () => {
    const at = Float64Array.from({ length: 800 }, (_, i) => 0.02 * (i + 0.5));
    const gamma = fromDensity(
      at,
      at.map((x) => x ** 3 * Math.exp(-x)),
    );
    const thrice = productOf(gamma, known(3));
    expect(Math.abs(valueAt(thrice, 0.9) / (3 * gammaQuantile(4, 0.9)) - 1)).toBeLessThan(0.01);
  });

  it('puts what lies beyond an end at that end', () => {
    const k = fromBelow((x) => 0.2 + 0.5 * x, 0, 1);
    expect(valueAt(k, 0.1)).toBeCloseTo(0, 8);
    expect(valueAt(k, 0.45)).toBeCloseTo(0.5, 2);
    expect(valueAt(k, 0.9)).toBeCloseTo(1, 8);
  });
});
