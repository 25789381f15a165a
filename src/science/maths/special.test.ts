import betaOracle from '@stdlib/stats-base-dists-beta-quantile';
import { describe, expect, it } from 'vitest';
import {
  betaLower,
  betaQuantile,
  betaUpperQuantile,
  binomialAtLeast,
  binomialLower,
  chiSquareQuantile,
  digamma,
  gammaLower,
  gammaQuantile,
  gammaUpper,
  gammaUpperQuantile,
  lnBetaBinomial,
  lnBinomial,
  lnGamma,
  lnHypergeometric,
  lnNegativeBinomial,
  lnPoisson,
  lnSumExp,
  negativeBinomialAtLeast,
  negativeBinomialLower,
  normalCdf,
  normalQuantile,
  poissonAtLeast,
  poissonLower,
  studentUpper,
  studentUpperQuantile,
  trigamma,
} from './index.ts';
import known from './maths.known.json' with { type: 'json' };

/** Relative gap; absolute below 1. */
const gap = (given: number, wanted: number): number =>
  Math.abs(given - wanted) / Math.max(1e-300, Math.abs(wanted));

function worst(rows: number[][], f: (...x: number[]) => number): { gap: number; at: number[] } {
  let most = { gap: -1, at: [] as number[] };
  for (const row of rows) {
    const g = gap(f(...row.slice(0, -1)), row.at(-1)!);
    if (!(g <= most.gap)) most = { gap: g, at: [...row, f(...row.slice(0, -1))] };
  }
  return most;
}

describe('special functions against scipy (maths.known.json)', () => {
  const cases: [string, number[][], (...x: number[]) => number, number][] = [
    ['lnGamma', known.lnGamma, lnGamma as (...x: number[]) => number, 2e-14],
    ['digamma', known.digamma, digamma as (...x: number[]) => number, 1e-13],
    ['trigamma', known.trigamma, trigamma as (...x: number[]) => number, 1e-13],
    ['gamma, upper share', known.gammaUpper, gammaUpper as (...x: number[]) => number, 1e-11],
    ['gamma, lower share', known.gammaLower, gammaLower as (...x: number[]) => number, 1e-11],
    ['gamma quantile', known.gammaQuantile, gammaQuantile as (...x: number[]) => number, 1e-10],
    ['beta, lower share', known.betaLower, betaLower as (...x: number[]) => number, 1e-10],
    ['beta quantile', known.betaQuantile, betaQuantile as (...x: number[]) => number, 1e-10],
    ['normal share', known.normalCdf, normalCdf as (...x: number[]) => number, 1e-12],
    ['normal quantile', known.normalQuantile, normalQuantile as (...x: number[]) => number, 1e-12],
    ['Student t', known.studentUpper, studentUpper as (...x: number[]) => number, 1e-11],
  ];
  it.each(cases)('%s', (_name, rows, f, within) => {
    expect(rows.length).toBeGreaterThan(4);
    const found = worst(rows, f);
    expect(found.gap, `at ${found.at.join(', ')}`).toBeLessThan(within);
  });

  it.each([
    ['Poisson', known.poisson, lnPoisson, poissonLower, poissonAtLeast],
    [
      'negative binomial',
      known.negativeBinomial,
      lnNegativeBinomial,
      negativeBinomialLower,
      negativeBinomialAtLeast,
    ],
    ['binomial', known.binomial, lnBinomial, binomialLower, binomialAtLeast],
  ] as [string, number[][], ...((...x: number[]) => number)[]][])(
    '%s chances',
    (_name, rows, ln, lower, atLeast) => {
      for (const row of rows) {
        const given = row.slice(0, -3);
        expect(gap(Math.exp(ln!(...given)), Math.exp(row.at(-3)!)), `ln at ${given}`).toBeLessThan(1e-11);
        expect(gap(lower!(...given), row.at(-2)!), `≤ at ${given}`).toBeLessThan(1e-10);
        expect(gap(atLeast!(...given), row.at(-1)!), `≥ at ${given}`).toBeLessThan(1e-10);
      }
    },
  );

  it('beta quantile agrees with an independent library over a wide grid', () => {
    for (const [a, b] of [
      [0.3, 2],
      [1, 1],
      [5, 1],
      [46, 6],
      [300, 20],
      [3, 1e5],
    ] as const) {
      for (const p of [1e-10, 0.001, 0.025, 0.3, 0.5, 0.8, 0.975, 1 - 1e-6]) {
        expect(gap(betaQuantile(a, b, p), betaOracle(p, a, b)), `${a}, ${b}, ${p}`).toBeLessThan(1e-10);
      }
    }
  });
});

describe('quantiles', () => {
  it('undo the shares, from the upper tail too', () => {
    for (const a of [0.2, 1, 30, 5000]) {
      for (const q of [1e-30, 1e-5, 0.4, 0.99]) {
        expect(gap(gammaUpper(a, gammaUpperQuantile(a, q)), q)).toBeLessThan(1e-9);
      }
    }
    expect(gap(1 - betaLower(4, 9, betaUpperQuantile(4, 9, 1e-3)), 1e-3)).toBeLessThan(1e-9);
  });

  it('chi-square 0.95 with 1 and 10 degrees of freedom is 3.841 and 18.307 (Abramowitz & Stegun 1964, table 26.8)', () => {
    expect(chiSquareQuantile(0.95, 1)).toBeCloseTo(3.84146, 5);
    expect(chiSquareQuantile(0.95, 10)).toBeCloseTo(18.307, 3);
  });

  it('Student t 0.99 for 6…20 degrees of freedom as printed (Wis. Admin. Code NR 252.0365)', () => {
    const printed = [3.143, 2.998, 2.896, 2.821, 2.764, 2.602, 2.528];
    [6, 7, 8, 9, 10, 15, 20].forEach((df, i) => {
      expect(studentUpperQuantile(0.01, df)).toBeCloseTo(printed[i]!, 3);
    });
  });

  it('ends are 0 and the largest value; a probability outside 0…1 is refused', () => {
    expect(gammaQuantile(2, 0)).toBe(0);
    expect(gammaQuantile(2, 1)).toBe(Infinity);
    expect(betaQuantile(2, 2, 1)).toBe(1);
    expect(() => gammaQuantile(2, 1.2)).toThrow(RangeError);
    expect(() => normalQuantile(Number.NaN)).toThrow(RangeError);
    expect(() => lnGamma(0)).toThrow(RangeError);
  });
});

describe('chances of whole numbers add up to 1', () => {
  it('hypergeometric and beta-binomial', () => {
    const hyper = [...Array(11).keys()].map((k) => lnHypergeometric(k, 50, 20, 10));
    expect(lnSumExp(hyper)).toBeCloseTo(0, 12);
    const beta = [...Array(21).keys()].map((k) => lnBetaBinomial(k, 20, 2.5, 0.7));
    expect(lnSumExp(beta)).toBeCloseTo(0, 12);
  });
});
