import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import known from './counting.known.json' with { type: 'json' };
import { conditionalTest, eTest, netInterval, netLimit, permutationTest, rateRatio } from './index.ts';

describe('two Poisson counts', () => {
  it('weed seeds, 0 in 100 g against 3 in 100 g (Przyborowski & Wilenski 1940; Krishnamoorthy & Thomson 2004, ex. 1)', () => {
    expect(conditionalTest(3, 100, 0, 100)).toBeCloseTo(0.125, 12);
    expect(conditionalTest(0, 100, 3, 100, 'two-sided')).toBeCloseTo(0.25, 12);
    expect(eTest(0, 100, 3, 100, 'two-sided')).toBeCloseTo(0.08837901, 7);
  });

  it('2 against 6 (Krishnamoorthy & Thomson 2004, ex. 2)', () => {
    expect(conditionalTest(6, 100, 2, 100)).toBeCloseTo(0.144531, 6);
    expect(conditionalTest(2, 100, 6, 100, 'two-sided')).toBeCloseTo(0.289063, 6);
    expect(eTest(2, 100, 6, 100, 'two-sided')).toBeCloseTo(0.17487482, 7);
  });

  it('E-test values of the authors’ own program, as quoted in scipy’s tests', () => {
    expect(eTest(3, 100, 20, 300, 'two-sided')).toBeCloseTo(0.122027, 5);
    expect(eTest(3, 12, 4, 20, 'greater')).toBeCloseTo(0.404161, 5);
    expect(eTest(4, 20, 3, 100, 'greater')).toBeCloseTo(0.00805364, 6);
    expect(eTest(4, 20, 3, 10, 'less')).toBeCloseTo(0.308322, 5);
  });

  it('equal efforts, as R’s poisson.test and scipy give them', () => {
    expect(conditionalTest(3, 1, 10, 1, 'two-sided')).toBeCloseTo(0.09228516, 8);
    expect(conditionalTest(3, 1, 10, 1, 'less')).toBeCloseTo(0.04614258, 8);
    expect(eTest(3, 1, 10, 1, 'two-sided')).toBeCloseTo(0.05277652, 6);
    expect(conditionalTest(5, 1, 12, 1, 'two-sided')).toBeCloseTo(0.14346313, 8);
    expect(eTest(5, 1, 12, 1, 'two-sided')).toBeCloseTo(0.09677689, 6);
    expect(conditionalTest(10, 1, 20, 1, 'two-sided')).toBeCloseTo(0.09873715, 8);
    expect(eTest(10, 1, 20, 1, 'two-sided')).toBeCloseTo(0.06883178, 6);
  });

  it('11 in 800 against 21 in 3011: ratio 1.971488 (0.8584264 to 4.2772659), p = 0.07967 (R, poisson.test help)', () => {
    const ratio = rateRatio(11, 800, 21, 3011, 0.95);
    expect(ratio.value).toBeCloseTo(1.971488, 6);
    expect(ratio.lower).toBeCloseTo(0.8584264, 6);
    expect(ratio.upper).toBeCloseTo(4.2772659, 5);
    expect(conditionalTest(11, 800, 21, 3011, 'two-sided')).toBeCloseTo(0.07967, 4);
  });

  it('20 in one sample against 6 in three blanks: ratio 10 (3.873244 to 30.429867), p = 4.110e-8 (R)', () => {
    const ratio = rateRatio(20, 1, 6, 3, 0.95);
    expect(ratio.value).toBeCloseTo(10, 12);
    expect(ratio.lower).toBeCloseTo(3.873244, 5);
    expect(ratio.upper).toBeCloseTo(30.429867, 4);
    expect(conditionalTest(20, 1, 6, 3, 'two-sided') / 4.11e-8).toBeCloseTo(1, 3);
  });

  it('agrees with frozen scipy values on every side', () => {
    const sides = ['greater', 'less', 'two-sided'] as const;
    for (const [k1, e1, k2, e2, ...p] of known.conditional as number[][]) {
      sides.forEach((side, i) => {
        expect(conditionalTest(k1!, e1!, k2!, e2!, side), `${k1}/${e1} ${k2}/${e2} ${side}`).toBeCloseTo(
          p[i]!,
          8,
        );
      });
    }
    for (const [k1, e1, k2, e2, ...p] of known.eTest as number[][]) {
      sides.forEach((side, i) => {
        expect(eTest(k1!, e1!, k2!, e2!, side), `${k1}/${e1} ${k2}/${e2} ${side}`).toBeCloseTo(p[i]!, 6);
      });
    }
  });

  it('nothing on either side is no evidence', () => {
    expect(conditionalTest(0, 1, 0, 1)).toBe(1);
    expect(eTest(0, 1, 0, 1)).toBe(1);
    expect(() => rateRatio(0, 1, 0, 1, 0.95)).toThrow(/at least one/);
  });
});

describe('net of two counts', () => {
  it('is Garwood’s interval when there is no background', () => {
    const found = netInterval(
      { gross: 7, grossEffort: 1, background: 0, backgroundEffort: 1e12, shares: [] },
      0.95,
    );
    expect(found.lower).toBeCloseTo(2.814363, 6);
    expect(found.upper).toBeCloseTo(14.422675, 6);
  });

  it('agrees with a direct integration (scipy, frozen)', () => {
    for (const [
      gross,
      grossEffort,
      background,
      backgroundEffort,
      lower,
      upper,
    ] of known.melded as number[][]) {
      const found = netInterval(
        {
          gross: gross!,
          grossEffort: grossEffort!,
          background: background!,
          backgroundEffort: backgroundEffort!,
          shares: [],
        },
        0.95,
      );
      // the frozen values come from 40,000 midpoints, good to about four figures
      expect(Math.abs(found.lower - lower!)).toBeLessThan(2e-3);
      expect(Math.abs(found.upper - upper!)).toBeLessThan(2e-3);
    }
  });

  it('its lower limit at confidence 1 − p is 0 for the exact conditional p (Fay, Proschan & Brittain 2015)', () => {
    for (const [y, x, m] of [
      [5, 0, 1],
      [3, 0, 3],
      [9, 2, 1],
      [100, 70, 1],
    ] as const) {
      const p = conditionalTest(y, 1, x, m);
      const parts = { gross: y, grossEffort: 1, background: x, backgroundEffort: m, shares: [] };
      expect(Math.abs(netLimit(parts, 1 - p, 'lower'))).toBeLessThan(1e-8);
    }
  });

  it('with a recovery known from many pieces it is divided by it; from few, it is wider', () => {
    const parts = { gross: 40, grossEffort: 1, background: 10, backgroundEffort: 2, shares: [] };
    const plain = netInterval(parts, 0.95);
    const many = netInterval({ ...parts, shares: [{ found: 4e6, shown: 8e6 }] }, 0.95);
    expect(many.lower / plain.lower).toBeCloseTo(2, 2);
    expect(many.upper / plain.upper).toBeCloseTo(2, 2);
    const few = netInterval({ ...parts, shares: [{ found: 5, shown: 10 }] }, 0.95);
    expect(few.lower).toBeLessThan(many.lower);
    expect(few.upper).toBeGreaterThan(many.upper);
  });

  it('only a perfect recovery seen in every piece of very many changes nothing', () => {
    const parts = { gross: 40, grossEffort: 1, background: 10, backgroundEffort: 2, shares: [] };
    const certain = netInterval({ ...parts, shares: [{ found: 1e7, shown: 1e7 }] }, 0.95);
    const plain = netInterval(parts, 0.95);
    expect(certain.lower).toBeCloseTo(plain.lower, 3);
    expect(certain.upper).toBeCloseTo(plain.upper, 3);
  });
});

describe('relabelling', () => {
  it('groups wholly apart reach one in all relabellings: 1/20, 1/70, 1/924', () => {
    for (const [n, ways] of [
      [3, 20],
      [4, 70],
      [6, 924],
    ] as const) {
      const high = Array.from({ length: n }, (_, i) => 50 + i);
      const low = Array.from({ length: n }, (_, i) => i);
      const found = permutationTest(high, low);
      expect(found).toMatchObject({ relabellings: ways, exhaustive: true });
      expect(found.p).toBeCloseTo(1 / ways, 12);
      expect(found.smallestPossible).toBeCloseTo(1 / ways, 12);
    }
  });

  it('agrees with scipy over all relabellings', () => {
    for (const [first, second, p] of known.permutation as [number[], number[], number][]) {
      expect(permutationTest(first, second).p).toBeCloseTo(p, 12);
    }
  });

  const first = [9, 4, 7, 8, 3, 9, 10, 6, 5, 8, 7, 4];
  const second = [4, 3, 6, 5, 2, 7, 4, 3, 5, 6, 4, 2];

  it('counts all 2,704,156 relabellings of 12 + 12 runs without writing them out', () => {
    const found = permutationTest(first, second);
    expect(found).toMatchObject({ exhaustive: true, relabellings: 2_704_156 });
    // halves are rates, not counts, and are drawn; the answer is the same within the chance of the draws
    const halves = permutationTest(
      first.map((x) => x / 2),
      second.map((x) => x / 2),
      { chance: chanceFrom(5) },
    );
    expect(halves.exhaustive).toBe(false);
    expect(Math.abs(halves.p - found.p)).toBeLessThan(5 * Math.sqrt(found.p / halves.relabellings));
  });

  it('that count is exact: whole-number arithmetic over every choice gives the same share', () => {
    const ways = new Map<string, bigint>([['0,0', 1n]]);
    for (const x of [...first, ...second]) {
      for (const [key, n] of [...ways]) {
        const [taken, sum] = key.split(',').map(Number) as [number, number];
        const next = `${taken + 1},${sum + x}`;
        if (taken < 12) ways.set(next, (ways.get(next) ?? 0n) + n);
      }
    }
    const seen = first.reduce((sum, x) => sum + x, 0);
    let asFar = 0n;
    for (const [key, n] of ways) {
      const [taken, sum] = key.split(',').map(Number) as [number, number];
      if (taken === 12 && sum >= seen) asFar += n;
    }
    expect(permutationTest(first, second).p).toBeCloseTo(Number(asFar) / 2_704_156, 12);
  });

  it('drawn relabellings repeat with their seed', () => {
    const halves = first.map((x) => x / 2);
    const drawn = (seed: number) => permutationTest(halves, second, { chance: chanceFrom(seed) });
    expect(drawn(5)).toEqual(drawn(5));
    expect(drawn(5).p).not.toBe(drawn(6).p);
  });

  it('equal runs say nothing', () => {
    expect(permutationTest([3, 3, 3, 3], [3, 3, 3, 3]).p).toBe(1);
    expect(() => permutationTest([], [1])).toThrow(/two groups/);
  });
});
