import { describe, expect, it } from 'vitest';
import { lnNegativeBinomial, lnPoisson } from '../maths/index.ts';
import { dispersionTest, momentShape, scatterFit } from './index.ts';

const spelled = (frequencies: readonly number[]): number[] =>
  frequencies.flatMap((times, count) => Array.from({ length: times }, () => count));

describe('yeast cells on 400 squares (Student 1907, Biometrika 5:351)', () => {
  // frequencies of 0, 1, 2 …; mean; variance (n); χ² on 399; p
  it.each([
    [[213, 128, 37, 18, 3, 1], 0.6825, 0.811694, 475.718, 0.00491],
    [[103, 143, 98, 42, 8, 4, 2], 1.3225, 1.283494, 388.202, 0.6414],
    [[75, 103, 121, 54, 30, 13, 2, 1, 0, 1], 1.8, 1.96, 435.556, 0.1003],
    [[0, 20, 43, 53, 86, 70, 54, 37, 18, 10, 5, 2, 2], 4.68, 4.4576, 380.991, 0.7336],
  ] as [number[], number, number, number, number][])('%j', (frequencies, mean, variance, chiSquare, p) => {
    const counts = spelled(frequencies);
    expect(counts).toHaveLength(400);
    const found = dispersionTest(counts);
    expect(found.mean).toBeCloseTo(mean, 10);
    expect((found.chiSquare * found.mean) / 400).toBeCloseTo(variance, 5);
    expect(found.chiSquare).toBeCloseTo(chiSquare, 2);
    expect(found.p).toBeCloseTo(p, 4);
  });
});

describe('red mites on 150 leaves (Bliss & Fisher 1953, Biometrics 9:176)', () => {
  const frequencies = [70, 38, 17, 10, 9, 3, 2, 1];
  const counts = spelled(frequencies);

  it('are not Poisson: index 1.98, χ² 295.4 on 149', () => {
    const found = dispersionTest(counts);
    expect(found.mean).toBeCloseTo(1.146667, 6);
    expect(found.index).toBeCloseTo(1.982831, 6);
    expect(found.index * found.mean).toBeCloseTo(2.273647, 6);
    expect(found.chiSquare).toBeCloseTo(295.442, 3);
    expect(found.p).toBeLessThan(1e-10);
  });

  it('have shape 1.02459 by maximum likelihood, 1.166697 by moments', () => {
    const fit = scatterFit(counts);
    if (fit.kind !== 'beyond Poisson') throw new Error('the mites are read as Poisson');
    expect(fit.shape).toBeCloseTo(1.02459, 4);
    expect(momentShape(counts)).toBeCloseTo(1.166697, 6);
  });

  it('expected frequencies as printed, and of Poisson as recomputed', () => {
    const printed = [69.49, 37.6, 20.1, 10.7, 5.69, 3.02, 1.6, 0.85, 0.45];
    printed.forEach((n, k) => {
      expect(Math.abs(150 * Math.exp(lnNegativeBinomial(k, 172 / 150, 1.02459)) - n)).toBeLessThan(0.006);
    });
    [47.65, 54.64, 31.33, 11.97, 3.43, 0.79].forEach((n, k) => {
      expect(Math.abs(150 * Math.exp(lnPoisson(k, 172 / 150)) - n)).toBeLessThan(0.006);
    });
  });
});

describe('scatter', () => {
  it('of counts more even than Poisson is said to be no more than Poisson', () => {
    expect(scatterFit([5, 5, 5, 5, 6]).kind).toBe('no more than Poisson');
    expect(momentShape([5, 5, 5])).toBe(Infinity);
  });

  it('with nothing found anywhere shows nothing', () => {
    expect(dispersionTest([0, 0, 0])).toMatchObject({ p: 1, index: 1 });
    expect(() => dispersionTest([3])).toThrow(/at least 2/);
  });

  it('allows for efforts: counts in proportion to effort have none', () => {
    expect(dispersionTest([2, 4, 8], [1, 2, 4]).chiSquare).toBeCloseTo(0, 12);
  });
});
