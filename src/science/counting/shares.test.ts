import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBinomial } from '../maths/index.ts';
import known from './counting.known.json' with { type: 'json' };
import {
  agrestiCoullInterval,
  allPassedFewest,
  allPassedShare,
  binomialTest,
  chanceAfterTest,
  clopperPearsonInterval,
  correctedShare,
  correctedShareInterval,
  sampleSize,
  sampleSizeUnrounded,
  shareUpperLimit,
  trueAmongAll,
  wilsonContinuityInterval,
  wilsonInterval,
} from './index.ts';

describe('intervals of a share (first four rows: Newcombe 1998, Stat. Med. 17:857, table I)', () => {
  // k, n, Wilson, Wilson with continuity, Clopper–Pearson, Agresti–Coull
  it.each([
    [81, 263, 0.2553, 0.3662, 0.2535, 0.3682, 0.2527, 0.3676, 0.2552, 0.3663],
    [15, 148, 0.0624, 0.1605, 0.0598, 0.1644, 0.0578, 0.1617, 0.0614, 0.1615],
    [0, 20, 0, 0.1611, 0, 0.2005, 0, 0.1684, -0.0287, 0.1898],
    [1, 29, 0.0061, 0.1718, 0.0018, 0.1963, 0.0009, 0.1776, -0.0084, 0.1863],
    [7, 10, 0.3968, 0.8922, 0.3537, 0.9191, 0.3475, 0.9333, 0.3923, 0.8967],
    [18, 20, 0.699, 0.9721, 0.6687, 0.9825, 0.683, 0.9877, 0.6868, 0.9843],
    [20, 20, 0.8389, 1, 0.7995, 1, 0.8316, 1, 0.8102, 1.0287],
    [45, 50, 0.7864, 0.9565, 0.7741, 0.9626, 0.7819, 0.9667, 0.7821, 0.9609],
    [95, 100, 0.8882, 0.9785, 0.8817, 0.9814, 0.8872, 0.9836, 0.8854, 0.9813],
  ])('%i of %i', (k, n, ...ends) => {
    [wilsonInterval, wilsonContinuityInterval, clopperPearsonInterval, agrestiCoullInterval].forEach(
      (interval, i) => {
        const found = interval(k, n, 0.95);
        expect(Math.abs(found.lower - ends[2 * i]!), interval.name).toBeLessThan(6e-5);
        expect(Math.abs(found.upper - ends[2 * i + 1]!), interval.name).toBeLessThan(6e-5);
      },
    );
  });

  it.each([
    ['wilson', wilsonInterval],
    ['wilsonContinuity', wilsonContinuityInterval],
    ['clopperPearson', clopperPearsonInterval],
  ] as const)('%s agrees with frozen scipy values', (name, interval) => {
    for (const [k, n, confidence, lower, upper] of known[name] as number[][]) {
      const found = interval(k!, n!, confidence!);
      expect(found.lower, `${k} of ${n}`).toBeCloseTo(lower!, 9);
      expect(found.upper, `${k} of ${n}`).toBeCloseTo(upper!, 9);
    }
  });

  it('682 of 925 against 0.75: p = 0.3825, 0.7076683 to 0.7654066 (R, binom.test; Mendel’s peas, Conover 1971)', () => {
    expect(binomialTest(682, 925, 0.75)).toBeCloseTo(0.3825, 4);
    const found = clopperPearsonInterval(682, 925, 0.95);
    expect(found.lower).toBeCloseTo(0.7076683, 6);
    expect(found.upper).toBeCloseTo(0.7654066, 6);
  });

  it('68 % of 1279 confirmed: 95 % Wilson 65.4 to 70.5 % (Lenz et al. 2015, Mar. Pollut. Bull. 100:82)', () => {
    const found = wilsonInterval(Math.round(0.68 * 1279), 1279, 0.95);
    expect(found.lower).toBeCloseTo(0.654, 3);
    expect(found.upper).toBeCloseTo(0.705, 3);
  });

  it('refuses more hits than trials', () => {
    expect(() => wilsonInterval(5, 4, 0.95)).toThrow(/given 5 of 4/);
  });
});

describe('how many to test (finite population, worked)', () => {
  it('± 10 % and ± 20 % at 95 %: the formula before rounding is 33.1 and 16.5 of 50, 65.1 and 21.5 of 200, 87.7 and 23.5 of 1000', () => {
    const worked: [number, number, number][] = [
      [50, 0.1, 33.11],
      [50, 0.2, 16.45],
      [200, 0.1, 65.1],
      [200, 0.2, 21.53],
      [1000, 0.1, 87.7],
      [1000, 0.2, 23.47],
    ];
    for (const [pieces, margin, n] of worked) {
      expect(Math.abs(sampleSizeUnrounded(pieces, margin, 0.95) - n), `${pieces} ± ${margin}`).toBeLessThan(
        0.01,
      );
      expect(sampleSize(pieces, margin, 0.95)).toBe(Math.ceil(n));
    }
    expect(sampleSize(5, 0.1, 0.95)).toBe(5);
  });

  it('all passed: 10 → 74 %, 20 → 86 %, 30 → 90.5 %, 60 → 95 % (one-sided 95 %)', () => {
    expect(allPassedShare(10, 0.95)).toBeCloseTo(0.741, 3);
    expect(allPassedShare(20, 0.95)).toBeCloseTo(0.861, 3);
    expect(allPassedShare(30, 0.95)).toBeCloseTo(0.905, 3);
    expect(allPassedShare(60, 0.95)).toBeCloseTo(0.951, 3);
  });

  it('all passed out of few is stronger: with all tested, all are true', () => {
    expect(allPassedFewest(10, 10, 0.95)).toBe(10);
    expect(allPassedFewest(10, 20, 0.95) / 20).toBeGreaterThan(allPassedShare(10, 0.95));
    expect(Math.abs(allPassedFewest(10, 100_000, 0.95) / 100_000 - allPassedShare(10, 0.95))).toBeLessThan(
      1e-3,
    );
  });

  it('true among all: exact, and closes on the truth when nearly all are tested', () => {
    expect(trueAmongAll(7, 10, 10, 0.95)).toEqual({ lower: 7, upper: 7 });
    const part = trueAmongAll(7, 10, 30, 0.95);
    expect(part.lower).toBeGreaterThanOrEqual(7);
    expect(part.upper).toBeLessThanOrEqual(27);
    // of very many it meets the Clopper–Pearson interval
    const many = trueAmongAll(7, 10, 20_000, 0.95);
    const exact = clopperPearsonInterval(7, 10, 0.95);
    expect(many.lower / 20_000).toBeCloseTo(exact.lower, 3);
    expect(many.upper / 20_000).toBeCloseTo(exact.upper, 3);
  });

  it('one-sided upper limit of a share: 0 of 59 → 5 % (rule of three)', () => {
    expect(shareUpperLimit(0, 59, 0.95)).toBeCloseTo(1 - 0.05 ** (1 / 59), 9);
  });
});

describe('imperfect tests', () => {
  it('0.60 at 0.95 and 0.90 → 0.588235; 0.05 → −0.058824, clipped and said (Rogan & Gladen 1978)', () => {
    const inside = correctedShare(0.6, 0.95, 0.9);
    expect(inside.ok && inside.value.value).toBeCloseTo(0.588235, 6);
    expect(inside.ok && inside.value.clipped).toBe(false);
    const below = correctedShare(0.05, 0.95, 0.9);
    expect(below.ok && below.value).toMatchObject({ value: 0, clipped: true });
    expect(below.ok && below.value.unclipped).toBeCloseTo(-0.058824, 6);
  });

  it('a test that tells nothing is refused', () => {
    const found = correctedShare(0.5, 0.5, 0.5);
    expect(!found.ok && found.refusal.why).toBe('test-tells-nothing');
  });

  it('chances after independent tests (Bayes’ rule, worked)', () => {
    expect(chanceAfterTest(0.68, 'pass', 0.9, 0.82)).toBeCloseTo(0.913978, 6);
    expect(chanceAfterTest(0.68, 'fail', 0.9, 0.82)).toBeCloseTo(0.205811, 6);
    expect(chanceAfterTest(0.5, 'pass', 0.9, 0.9)).toBeCloseTo(0.9, 12);
    expect(chanceAfterTest(0.1, 'pass', 0.9, 0.9)).toBeCloseTo(0.5, 12);
    const first = chanceAfterTest(0.5, 'pass', 0.9, 0.9);
    expect(chanceAfterTest(first, 'pass', 0.95, 0.95)).toBeCloseTo(0.994186, 6);
  });

  it('with rates from a drill the interval covers the truth about as often as it says (seeded)', () => {
    const chance = chanceFrom(41);
    const draws = 150;
    let covered = 0;
    for (let i = 0; i < draws; i++) {
      const truth = 0.1 + 0.8 * chance.uniform();
      const kept = drawBinomial(chance, 60, truth * 0.9 + (1 - truth) * 0.1);
      const found = correctedShareInterval(
        kept,
        60,
        [drawBinomial(chance, 30, 0.9), 30],
        [drawBinomial(chance, 30, 0.1), 30],
        0.95,
      );
      if (found.lower <= truth && truth <= found.upper) covered++;
    }
    // 95 % of 150 with four standard errors of room downwards
    expect(covered / draws).toBeGreaterThan(0.88);
  });

  it('is wider than the interval that takes the drill’s rates as known', () => {
    const drill = correctedShareInterval(30, 60, [27, 30], [3, 30], 0.95);
    const known_ = correctedShareInterval(30, 60, [27_000, 30_000], [3000, 30_000], 0.95);
    expect(drill.upper - drill.lower).toBeGreaterThan(known_.upper - known_.lower);
    expect(known_.value).toBeCloseTo(0.5, 2);
  });
});
