import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBinomial } from '../../maths/index.ts';
import { wilsonInterval } from '../index.ts';
import { trueShare } from './true-share.ts';

const drill = (sensitivity: number, falseRate: number, n: number) => ({
  truePositive: [Math.round(sensitivity * n), n] as const,
  falsePositive: [Math.round(falseRate * n), n] as const,
});

describe('true share under an imperfect test', () => {
  it('corrects as Rogan and Gladen: 0.60 at 0.95/0.90 → 0.588235', () => {
    const answer = trueShare({ positive: 60, tested: 100 }, drill(0.95, 0.1, 100), 0.95);
    if (!answer.ok) throw new Error(answer.refusal.message);
    expect(answer.value.uncut).toBeCloseTo(0.588235, 6);
    expect(answer.value.held).toBe(false);
    expect(answer.value.share.lower).toBeLessThan(0.588235);
    expect(answer.value.share.upper).toBeGreaterThan(0.588235);
  });

  it('holds a share below the false-positive floor at 0 and says so: 0.05 → −0.058824', () => {
    const answer = trueShare({ positive: 5, tested: 100 }, drill(0.95, 0.1, 100), 0.95);
    if (!answer.ok) throw new Error(answer.refusal.message);
    expect(answer.value.uncut).toBeCloseTo(-0.058824, 6);
    expect(answer.value).toMatchObject({ held: true, belowFloor: true });
    expect(answer.value.share.value).toBe(0);
    expect(answer.value.share.lower).toBe(0);
    expect(answer.value.share.upper).toBeGreaterThan(0.01);
  });

  it('is the exact binomial limit when the drill is as good as perfect', () => {
    // Clopper & Pearson 1934: 18 of 20 → 0.6830 to 0.9877
    const answer = trueShare(
      { positive: 18, tested: 20 },
      { truePositive: [1_000_000, 1_000_000], falsePositive: [0, 1_000_000] },
      0.95,
    );
    if (!answer.ok) throw new Error(answer.refusal.message);
    expect(answer.value.share.lower).toBeCloseTo(0.683, 2);
    expect(answer.value.share.upper).toBeCloseTo(0.9877, 2);
  });

  it('covers the truth with drills of 20 and 40, where the naive interval fails', () => {
    const studies = 250;
    let worst = 1;
    let worstNaive = 1;
    for (const [n, share] of [
      [20, 0.1],
      [20, 0.7],
      [40, 0.3],
      [40, 0.9],
    ] as const) {
      const chance = chanceFrom(n + Math.round(100 * share));
      let covered = 0;
      let naive = 0;
      let answered = 0;
      for (let i = 0; i < studies; i++) {
        const rates = {
          truePositive: [drawBinomial(chance, n, 0.9), n] as const,
          falsePositive: [drawBinomial(chance, n, 0.15), n] as const,
        };
        const positive = drawBinomial(chance, 80, share * 0.9 + (1 - share) * 0.15);
        const answer = trueShare({ positive, tested: 80 }, rates, 0.95);
        if (!answer.ok) continue;
        answered++;
        const { lower, upper } = answer.value.share;
        if (lower <= share && share <= upper) covered++;
        const plain = wilsonInterval(positive, 80, 0.95);
        if (plain.lower <= share && share <= plain.upper) naive++;
      }
      worst = Math.min(worst, covered / answered);
      worstNaive = Math.min(worstNaive, naive / answered);
    }
    // three standard errors of 250 studies below 94 %
    expect(worst).toBeGreaterThan(0.94 - 3 * Math.sqrt((0.94 * 0.06) / studies));
    expect(worstNaive).toBeLessThan(0.8);
  });

  it('refuses a drill that contradicts itself, an empty one, and nothing tested', () => {
    const why = (answer: ReturnType<typeof trueShare>): string =>
      answer.ok ? 'answered' : answer.refusal.why;
    expect(why(trueShare({ positive: 5, tested: 10 }, drill(0.4, 0.6, 20), 0.95))).toBe('drill-contradicts');
    expect(why(trueShare({ positive: 0, tested: 0 }, drill(0.9, 0.1, 20), 0.95))).toBe('nothing-tested');
    expect(
      why(trueShare({ positive: 5, tested: 10 }, { truePositive: [9, 10], falsePositive: [0, 0] }, 0.95)),
    ).toBe('drill-missing');
  });
});
