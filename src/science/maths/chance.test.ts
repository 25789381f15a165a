import { describe, expect, it } from 'vitest';
import {
  chanceFrom,
  chiSquareUpper,
  drawBelow,
  drawBeta,
  drawBinomial,
  drawGamma,
  drawNegativeBinomial,
  drawNormal,
  drawPoisson,
  lnBinomial,
  lnNegativeBinomial,
  lnPoisson,
  shuffled,
} from './index.ts';

const DRAWS = 40_000;

/** Chi-square of whole draws against their chances, cells expecting fewer than 10 pooled into the tails. */
function chanceOfMisfit(draw: () => number, ln: (k: number) => number): number {
  const seen = new Map<number, number>();
  for (let i = 0; i < DRAWS; i++) {
    const k = draw();
    seen.set(k, (seen.get(k) ?? 0) + 1);
  }
  let x2 = 0;
  let cells = 0;
  let restSeen = DRAWS;
  let restExpected = DRAWS;
  for (const [k, n] of seen) {
    const expected = DRAWS * Math.exp(ln(k));
    if (expected < 10) continue;
    x2 += (n - expected) ** 2 / expected;
    cells++;
    restSeen -= n;
    restExpected -= expected;
  }
  if (restExpected > 5) x2 += (restSeen - restExpected) ** 2 / restExpected;
  return chiSquareUpper(x2, cells - 1);
}

const moments = (draw: () => number): { mean: number; variance: number } => {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < DRAWS; i++) {
    const x = draw();
    sum += x;
    squares += x * x;
  }
  const mean = sum / DRAWS;
  return { mean, variance: squares / DRAWS - mean * mean };
};

describe('seeded chance', () => {
  it('repeats itself and differs by seed', () => {
    const draw = (seed: number): number[] => {
      const chance = chanceFrom(seed);
      return [chance.uniform(), chance.uniform(), chance.uniform()];
    };
    expect(draw(1)).toEqual(draw(1));
    expect(draw(1)).not.toEqual(draw(2));
    expect(draw(0)).not.toEqual(draw(4294967296));
    expect(() => chanceFrom(0.5)).toThrow(RangeError);
  });

  it('is uniform: 256 cells, chi-square', () => {
    const chance = chanceFrom(20);
    expect(
      chanceOfMisfit(
        () => drawBelow(chance, 256),
        () => -Math.log(256),
      ),
    ).toBeGreaterThan(1e-3);
  });

  // fixed seeds: each test is a fact about these draws, not a coin toss on every run
  it.each([0.3, 4, 19.9, 60, 5000])('Poisson of mean %d follows its chances', (mean) => {
    const chance = chanceFrom(31);
    expect(
      chanceOfMisfit(
        () => drawPoisson(chance, mean),
        (k) => lnPoisson(k, mean),
      ),
    ).toBeGreaterThan(1e-3);
  });

  it.each([
    [5, 0.3],
    [100, 0.02],
    [1000, 0.7],
  ])('binomial of %d trials at %d follows its chances', (n, p) => {
    const chance = chanceFrom(32);
    expect(
      chanceOfMisfit(
        () => drawBinomial(chance, n, p),
        (k) => lnBinomial(k, n, p),
      ),
    ).toBeGreaterThan(1e-3);
  });

  it.each([
    [2, 0.5],
    [10, 3],
  ])('negative binomial of mean %d and shape %d follows its chances', (mean, shape) => {
    const chance = chanceFrom(33);
    const p = chanceOfMisfit(
      () => drawNegativeBinomial(chance, mean, shape),
      (k) => lnNegativeBinomial(k, mean, shape),
    );
    expect(p).toBeGreaterThan(1e-3);
  });

  it('normal, gamma and beta have their mean and variance (5 standard errors)', () => {
    const chance = chanceFrom(34);
    const normal = moments(() => drawNormal(chance, 3, 2));
    expect(Math.abs(normal.mean - 3)).toBeLessThan((5 * 2) / Math.sqrt(DRAWS));
    expect(Math.abs(normal.variance - 4)).toBeLessThan((5 * 4 * Math.SQRT2) / Math.sqrt(DRAWS));
    for (const shape of [0.4, 3]) {
      const gamma = moments(() => drawGamma(chance, shape, 2));
      expect(Math.abs(gamma.mean - 2 * shape)).toBeLessThan((5 * 2 * Math.sqrt(shape)) / Math.sqrt(DRAWS));
    }
    const beta = moments(() => drawBeta(chance, 2, 5));
    expect(Math.abs(beta.mean - 2 / 7)).toBeLessThan((5 * 0.16) / Math.sqrt(DRAWS));
    expect(Math.abs(beta.variance - 10 / (49 * 8))).toBeLessThan(0.001);
  });

  it('shuffles into every order equally often and leaves the list alone', () => {
    const chance = chanceFrom(35);
    const list = ['a', 'b', 'c'];
    const orders = new Map<string, number>();
    for (let i = 0; i < 6000; i++) {
      const order = shuffled(chance, list).join('');
      orders.set(order, (orders.get(order) ?? 0) + 1);
    }
    expect(list).toEqual(['a', 'b', 'c']);
    expect(orders.size).toBe(6);
    for (const n of orders.values()) expect(Math.abs(n - 1000)).toBeLessThan(5 * 29);
  });
});
