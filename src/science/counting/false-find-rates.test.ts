import { describe, expect, it } from 'vitest';
import {
  type FalseFindRate,
  falseFindRate,
  nextToAsk,
  type SearchedBlank,
  settingThatHolds,
  shownByNone,
} from './index.ts';

const blanks = (falseFinds: readonly number[], undecided = 0, searched = 1): SearchedBlank[] =>
  falseFinds.map((n) => ({ searched, falseFinds: n, undecided }));
const rate = (asked: number, falseFinds: readonly number[], undecided = 0) =>
  falseFindRate(asked, blanks(falseFinds, undecided), 0.95);
const none = Array<number>(10).fill(0);

describe('false finds a blank photograph', () => {
  it('are a rate with Garwood’s interval', () => {
    // Garwood 1936: 7 found, 95 % → 2.8144 to 14.4227; here in 10 photographs.
    const { most, least } = rate(0.5, [7, ...none.slice(1)]);
    expect(most.value).toBeCloseTo(0.7, 12);
    expect(most.lower).toBeCloseTo(0.28144, 5);
    expect(most.upper).toBeCloseTo(1.44227, 5);
    expect(least).toEqual(most);
  });

  it('none found shows less than 3.69 (two-sided) or 3.00 (one-sided) divided by their number', () => {
    // −ln 0.025 and −ln 0.05.
    expect(rate(0.5, none).most.upper).toBeCloseTo(-Math.log(0.025) / 10, 10);
    expect(shownByNone(10)).toBeCloseTo(-Math.log(0.05) / 10, 10);
  });

  it('count by the share that was searched, and undecided finds as a range', () => {
    const given = falseFindRate(0.5, blanks([1, 1, 1, 1], 1, 0.5), 0.95);
    expect(given).toMatchObject({ photographs: 4, exposure: 2, falseFinds: 4, undecided: 4 });
    expect([given.least.value, given.most.value]).toEqual([2, 4]);
  });
});

describe('the setting that holds', () => {
  /** Walks as a caller does, on a membrane that gives `times` as many as asked for. */
  const walk = (times: number, photographs: number, wanted: number) => {
    const rates: FalseFindRate[] = [];
    for (let ask = nextToAsk(rates, wanted); ask !== null; ask = nextToAsk(rates, wanted)) {
      const all = Math.round(times * ask * photographs);
      rates.push(rate(ask, [all, ...Array<number>(photographs - 1).fill(0)]));
    }
    return { asked: rates.map(({ asked }) => asked), holds: settingThatHolds(rates, wanted) };
  };

  it('is stricter on a grainy membrane and more generous on a clean one; no more is searched than needed', () => {
    expect(walk(4, 20, 0.5)).toEqual({ asked: [0.5, 0.2, 0.1], holds: { told: true, ask: 0.1 } });
    expect(walk(0.4, 20, 0.5)).toEqual({ asked: [0.5, 1, 2], holds: { told: true, ask: 1 } });
    expect(walk(1, 20, 0.3)).toEqual({ asked: [0.3, 0.5], holds: { told: true, ask: 0.3 } });
  });

  it('is not told from photographs of which even none found would show too little', () => {
    expect(walk(0, 5, 0.5)).toEqual({
      asked: [0.5],
      holds: { told: false, why: 'too-few', needed: 6, showsBelow: shownByNone(5) },
    });
    expect(walk(0, 6, 0.5).holds.told).toBe(true);
  });

  it('does not exist where the strictest one gives too many, and ends at four times the wanted rate', () => {
    expect(walk(1000, 10, 0.5).holds).toEqual({ told: false, why: 'none-holds', strictest: 0.01 });
    expect(walk(0, 10, 0.5)).toEqual({ asked: [0.5, 1, 2], holds: { told: true, ask: 2 } });
  });

  it('counts undecided finds as false', () => {
    expect(settingThatHolds([rate(0.2, none), rate(0.5, none, 1)], 0.5)).toEqual({ told: true, ask: 0.2 });
  });

  it('refuses what is no rate', () => {
    expect(() => nextToAsk([], 0)).toThrow(RangeError);
    expect(() => settingThatHolds([], 0.5)).toThrow(RangeError);
  });
});
