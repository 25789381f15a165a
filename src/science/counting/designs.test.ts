import { describe, expect, it } from 'vitest';
import { chanceFrom, drawNegativeBinomial, drawPoisson } from '../maths/index.ts';
import { adjustedForSeveral, doseSlope, netRatio, pairedDifference } from './index.ts';

const interval = (value: number, lower: number, upper: number) => ({ value, lower, upper, confidence: 0.95 });

describe('ratio of two nets', () => {
  it('agrees with the closed form of Donner & Zou 2012', () => {
    const [a, l1, u1] = [20, 14, 28] as const;
    const [b, l2, u2] = [8, 5, 12] as const;
    const found = netRatio(interval(a, l1, u1), interval(b, l2, u2));
    if (!found.ok) throw new Error(found.refusal.message);
    const lower =
      (a * b - Math.sqrt((a * b) ** 2 - l1 * u2 * (2 * a - l1) * (2 * b - u2))) / (u2 * (2 * b - u2));
    const upper =
      (a * b + Math.sqrt((a * b) ** 2 - u1 * l2 * (2 * a - u1) * (2 * b - l2))) / (l2 * (2 * b - l2));
    expect(found.value.value).toBeCloseTo(2.5, 12);
    expect(found.value.lower).toBeCloseTo(lower, 9);
    expect(found.value.upper).toBeCloseTo(upper, 9);
  });

  it('says that there is no upper limit when the second may be none, and no ratio when it is none', () => {
    const open = netRatio(interval(20, 14, 28), interval(8, -1, 18));
    expect(open.ok && open.value.upper).toBeNull();
    const none = netRatio(interval(20, 14, 28), interval(-1, -4, 3));
    expect(!none.ok && none.refusal.why).toBe('nothing-below-the-line');
  });

  it('a ratio with itself holds 1', () => {
    const same = netRatio(interval(8, 5, 12), interval(8, 5, 12));
    expect(same.ok && same.value.lower < 1 && same.value.upper! > 1).toBe(true);
  });
});

describe('pairs', () => {
  it('five pairs all higher reach 1/32', () => {
    const found = pairedDifference(
      [
        [1, 4],
        [2, 6],
        [0, 3],
        [5, 9],
        [3, 8],
      ],
      0.95,
    );
    if (!found.ok) throw new Error(found.refusal.message);
    expect(found.value.p).toBeCloseTo(1 / 32, 12);
    expect(found.value.difference.value).toBeCloseTo(3.8, 12);
    // Student: sd of 3, 4, 3, 4, 5 is 0.83666, t(4, 97.5 %) = 2.776445 → ± 1.03885
    expect(found.value.difference.upper - 3.8).toBeCloseTo(1.03885, 4);
  });

  it('sleep data (Student 1908, Biometrika 6:1): mean difference 1.58, 0.70 to 2.46', () => {
    const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
    const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    const found = pairedDifference(
      first.map((x, i) => [x, second[i]!] as const),
      0.95,
    );
    if (!found.ok) throw new Error(found.refusal.message);
    expect(found.value.difference.value).toBeCloseTo(1.58, 10);
    expect(found.value.difference.lower).toBeCloseTo(0.7001142, 6);
    expect(found.value.difference.upper).toBeCloseTo(2.4598858, 6);
    // one difference is 0, the other nine point one way: 2 of 2^10 sign choices are as far
    expect(found.value.p).toBeCloseTo(2 / 1024, 12);
  });

  it('one pair is refused', () => {
    const found = pairedDifference([[1, 2]], 0.95);
    expect(!found.ok && found.refusal.why).toBe('too-few-pairs');
  });
});

describe('dose series', () => {
  const series = (counts: readonly number[]) =>
    counts.map((count, i) => ({ dose: [0, 1, 2, 4][i % 4]!, count, effort: 1 }));

  it('an exact line gives its slope and its start', () => {
    const found = doseSlope(series([6, 9, 12, 18, 6, 9, 12, 18]), 0.95);
    if (!found.ok) throw new Error(found.refusal.message);
    expect(found.value.slope.value).toBeCloseTo(3, 9);
    expect(found.value.atNone).toBeCloseTo(6, 9);
    expect(found.value.p).toBeLessThan(0.01);
  });

  it('a higher background leaves the slope alone', () => {
    const low = doseSlope(series([6, 9, 12, 18, 6, 9, 12, 18]), 0.95);
    const high = doseSlope(series([56, 59, 62, 68, 56, 59, 62, 68]), 0.95);
    expect(low.ok && high.ok && Math.abs(low.value.slope.value - high.value.slope.value)).toBeLessThan(1e-9);
  });

  it('is right in level and coverage where runs scatter (seeded, 150 series)', () => {
    const chance = chanceFrom(81);
    let called = 0;
    let covered = 0;
    const studies = 150;
    for (let i = 0; i < studies; i++) {
      const flat = doseSlope(
        series(Array.from({ length: 8 }, () => drawNegativeBinomial(chance, 6, 3))),
        0.95,
        i + 1,
      );
      if (flat.ok && flat.value.p <= 0.05) called++;
      const rising = doseSlope(
        series([0, 1, 2, 4, 0, 1, 2, 4].map((d) => drawPoisson(chance, 3 + 4 * d))),
        0.95,
        i + 1,
      );
      if (rising.ok && rising.value.slope.lower <= 4 && rising.value.slope.upper >= 4) covered++;
    }
    // four standard errors of a 150-series rate
    expect(called / studies).toBeLessThan(0.05 + 4 * Math.sqrt((0.05 * 0.95) / studies));
    expect(covered / studies).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.05 * 0.95) / studies));
  });

  it('three runs, or two doses, are refused', () => {
    expect(doseSlope(series([1, 2, 3]), 0.95).ok).toBe(false);
    const two = doseSlope(
      [0, 0, 0, 1, 1].map((dose) => ({ dose, count: 3, effort: 1 })),
      0.95,
    );
    expect(!two.ok && two.refusal.why).toBe('too-few-doses');
  });

  it('nothing found anywhere is a slope of none with a width', () => {
    const found = doseSlope(series([0, 0, 0, 0, 0, 0, 0, 0]), 0.95);
    if (!found.ok) throw new Error(found.refusal.message);
    expect(found.value.slope.value).toBe(0);
    expect(found.value.slope.upper).toBeGreaterThan(0);
    expect(found.value.p).toBe(1);
  });
});

describe('several comparisons', () => {
  it('Holm’s steps: .005 .01 .03 .04 → .02 .03 .06 .06 (R, p.adjust)', () => {
    const found = adjustedForSeveral([0.01, 0.04, 0.03, 0.005]);
    [0.03, 0.06, 0.06, 0.02].forEach((p, i) => {
      expect(found[i]).toBeCloseTo(p, 12);
    });
    expect(adjustedForSeveral([0.4, 0.6])).toEqual([0.8, 0.8]);
  });
});
