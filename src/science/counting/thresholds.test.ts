import { describe, expect, it } from 'vitest';
import known from './counting.known.json' with { type: 'json' };
import {
  blankSpread,
  currieLimits,
  detectionChance,
  exactDecisionCount,
  exactDetectionLimit,
  knownDecisionCount,
  meanPlusSd,
  methodDetectionLimit,
  minimumDetectableCount,
  nonNegativeNet,
  pairedDetectionLimit,
  studentCriticalLevel,
} from './index.ts';

describe('Currie 1968, Anal. Chem. 40:586', () => {
  // B; paired L_C, L_D, L_Q; well-known L_C, L_D, L_Q
  const table: number[][] = [
    [0, 0, 2.7055, 100, 0, 2.7055, 100],
    [1, 2.3262, 7.3579, 101.962, 1.6449, 5.9953, 100.99],
    [4, 4.6523, 12.0102, 107.446, 3.2897, 9.285, 103.852],
    [10, 7.356, 17.4176, 117.082, 5.2015, 13.1085, 109.161],
    [16, 9.3047, 21.3149, 125.498, 6.5794, 15.8644, 114.031],
    [25, 11.6309, 25.9673, 136.603, 8.2243, 19.1541, 120.711],
    [50, 16.4485, 35.6026, 161.803, 11.6309, 25.9673, 136.603],
    [100, 23.2617, 49.229, 200, 16.4485, 35.6026, 161.803],
    [400, 46.5235, 95.7525, 337.228, 32.8971, 68.4997, 256.155],
  ];
  it.each(table)('background %d', (background, ...limits) => {
    const paired = currieLimits(background!);
    const wellKnown = currieLimits(background!, Infinity);
    [
      paired.critical,
      paired.detection,
      paired.determination,
      wellKnown.critical,
      wellKnown.detection,
      wellKnown.determination,
    ].forEach((value, i) => {
      expect(Math.abs(value - limits[i]!), `limit ${i}`).toBeLessThan(6e-4);
    });
  });

  it('is within 0.3 % of the printed coefficients 2.33, 2.71 + 4.65, 1.645, 2.71 + 3.29 (B = 25)', () => {
    const paired = currieLimits(25);
    const wellKnown = currieLimits(25, Infinity);
    for (const [value, printed] of [
      [paired.critical, 2.33 * 5],
      [paired.detection, 2.71 + 4.65 * 5],
      [wellKnown.critical, 1.645 * 5],
      [wellKnown.detection, 2.71 + 3.29 * 5],
      [minimumDetectableCount(25), 2.71 + 4.65 * 5],
    ] as const) {
      expect(Math.abs(value / printed - 1)).toBeLessThan(0.003);
    }
  });
});

describe('exact decision count', () => {
  // total blank count x in columns, number of pooled blanks m in rows (binomial tail, recomputed)
  const at = [0, 1, 2, 3, 5, 10, 20];
  it.each([
    [1, [5, 7, 9, 10, 13, 20, 33]],
    [2, [3, 4, 5, 6, 8, 12, 19]],
    [3, [3, 4, 4, 5, 6, 9, 13]],
    [5, [2, 3, 3, 4, 4, 6, 9]],
    [10, [2, 2, 2, 3, 3, 4, 6]],
  ])('%i blanks', (blanks, counts) => {
    expect(at.map((x) => exactDecisionCount(x, blanks))).toEqual(counts);
  });

  it('one blank of 4, 6, 7, 8 and 9: 12, 15, 16, 18 and 19', () => {
    expect([4, 6, 7, 8, 9].map((x) => exactDecisionCount(x, 1))).toEqual([12, 15, 16, 18, 19]);
  });

  it('0 against 5 is the first pair called detected (Currie 2006, ACS Symp. Ser. 945)', () => {
    expect(exactDecisionCount(0, 1)).toBe(5);
  });

  it('agrees with frozen scipy values, unequal efforts too', () => {
    for (const [x, m, count] of known.decision as [number, number, number][]) {
      expect(exactDecisionCount(x, m), `${x} over ${m}`).toBe(count);
    }
  });

  it('against mean blanks of 0 to 20 with 1, 3, 5 and 10 blanks', () => {
    const rows: [number, number[]][] = [
      [0, [5, 3, 2, 2]],
      [1, [7, 5, 4, 4]],
      [2, [9, 7, 6, 6]],
      [5, [13, 11, 11, 10]],
      [10, [20, 18, 17, 17]],
      [20, [33, 30, 30, 29]],
    ];
    for (const [mean, counts] of rows) {
      expect(
        [1, 3, 5, 10].map((m) => exactDecisionCount(mean * m, m)),
        `mean ${mean}`,
      ).toEqual(counts);
    }
  });
});

describe('exact threshold and detection limit over a known background', () => {
  it('decision counts for means 0.1 to 50', () => {
    const means = [0.1, 0.5, 1, 2, 3, 5, 10, 20, 50];
    expect(means.map((b) => knownDecisionCount(b))).toEqual([2, 3, 4, 6, 7, 10, 16, 29, 63]);
    for (const [b, count] of known.knownDecision as [number, number][])
      expect(knownDecisionCount(b)).toBe(count);
  });

  it('detection limits for means 1, 2, 5 and 10', () => {
    for (const [mean, limit] of [
      [1, 6.7537],
      [2, 8.513],
      [5, 10.7052],
      [10, 13.0971],
    ] as const) {
      expect(exactDetectionLimit(mean, knownDecisionCount(mean))).toBeCloseTo(limit, 4);
    }
    for (const [b, count, limit] of known.knownDetection as [number, number, number][]) {
      expect(exactDetectionLimit(b, count)).toBeCloseTo(limit, 8);
    }
  });

  it('tends to 2.9957 as the background goes to nothing', () => {
    expect(exactDetectionLimit(0, 1)).toBeCloseTo(2.995732, 6);
  });

  it('keeps the level: an empty run is called in at most 5 % of pairs', () => {
    for (const background of [0.2, 1, 3, 10]) {
      for (const blanks of [1, 3, 10])
        expect(detectionChance(0, background, blanks)).toBeLessThanOrEqual(0.05);
    }
  });

  it('is reached by the paired limit with chance 95 %, and falls with more blanks', () => {
    const limits = [1, 3, 10].map((m) => pairedDetectionLimit(2, m));
    limits.forEach((limit, i) => {
      expect(detectionChance(limit, 2, [1, 3, 10][i]!)).toBeCloseTo(0.95, 6);
    });
    expect(limits[0]!).toBeGreaterThan(limits[1]!);
    expect(limits[1]!).toBeGreaterThan(limits[2]!);
  });
});

describe('net in the form of ISO 11929-1 (worked from the formulas)', () => {
  // n_g, t_g, n_0, t_0 → y, u, y*, y#, ω, lower, upper, ŷ, u(ŷ)
  it.each([
    [25, 1, 16, 1, 9, 6.40312, 9.3047, 21.31494, 0.920073, 0.8998, 21.77654, 10.03391, 5.53406],
    [30, 1, 48, 3, 14, 5.94418, 7.59725, 17.90005, 0.990745, 3.15371, 25.67401, 14.14945, 5.76357],
    [3, 1, 4, 2, 1, 2, 2.84897, 8.40348, 0.691462, 0.09705, 5.22665, 2.01832, 1.39453],
  ])('%d in %d over %d in %d', (gross, grossTime, background, backgroundTime, ...wanted) => {
    const found = nonNegativeNet(gross, grossTime, background, backgroundTime);
    [
      found.net,
      found.uncertainty,
      found.decisionThreshold,
      found.detectionLimit,
      found.chancePositive,
      found.lower,
      found.upper,
      found.bestEstimate,
      found.bestUncertainty,
    ].forEach((value, i) => {
      expect(Math.abs(value - wanted[i]!), `figure ${i}`).toBeLessThan(2e-5);
    });
  });

  it('equals Currie paired at equal times and a background of 16', () => {
    const currie = currieLimits(16);
    const found = nonNegativeNet(25, 1, 16, 1);
    expect(found.decisionThreshold).toBeCloseTo(currie.critical, 10);
    expect(found.detectionLimit).toBeCloseTo(currie.detection, 10);
  });

  it('stays finite with nothing counted', () => {
    for (const value of Object.values(nonNegativeNet(0, 1, 0, 1))) expect(Number.isFinite(value)).toBe(true);
  });
});

describe('limits from replicate blanks', () => {
  const blanks = blankSpread([2, 0, 3, 1, 4, 2, 1, 0, 2, 3]);

  it('mean + 3 SD and + 10 SD (numpy)', () => {
    expect(blanks.mean).toBeCloseTo(1.8, 12);
    expect(blanks.sd).toBeCloseTo(1.316561, 6);
    expect(meanPlusSd(blanks, 3)).toBeCloseTo(5.749684, 6);
    expect(meanPlusSd(blanks, 10)).toBeCloseTo(14.965612, 6);
  });

  it('critical level with Student’s t: 1.833113 at 9 degrees → 4.331201 (scipy)', () => {
    expect(studentCriticalLevel(blanks)).toBeCloseTo(4.331201, 6);
  });

  it('method detection limit: t printed for 7 to 21 replicates, factors 0.69 and 1.92 (Wis. Admin. Code NR 252.0365)', () => {
    const printed = [3.143, 2.998, 2.896, 2.821, 2.764, 2.602, 2.528];
    [7, 8, 9, 10, 11, 16, 21].forEach((n, i) => {
      expect(methodDetectionLimit(1, n).limit).toBeCloseTo(printed[i]!, 3);
    });
    const seven = methodDetectionLimit(1, 7);
    expect(seven.lower / seven.limit).toBeCloseTo(0.69, 2);
    expect(seven.upper / seven.limit).toBeCloseTo(1.92, 2);
  });

  it('refuses a spread of one blank', () => {
    expect(() => blankSpread([3])).toThrow(/at least 2/);
  });
});
