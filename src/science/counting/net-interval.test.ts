import { describe, expect, it } from 'vitest';
import { chanceFrom, drawGamma } from '../maths/index.ts';
import { netLimit } from './index.ts';
import { differenceShare } from './net-interval.ts';

/** Shapes as they come where counts are divided by an index of scatter. */
const SHAPES = [0.02, 0.2, 0.25, 0.5, 0.9, 1, 1.2, 2, 3.5, 40];

describe('the share of a difference of two gamma rates', () => {
  it('is 1 far above and 0 far below, and 1 less the share of the other way round', () => {
    for (const a of SHAPES) {
      for (const b of SHAPES) {
        const first = { shape: a, effort: 0.75 };
        const second = { shape: b, effort: 1.25 };
        const name = `${a} and ${b}`;
        expect(differenceShare(first, second, 1e4), name).toBeCloseTo(1, 9);
        expect(differenceShare(first, second, -1e4), name).toBeCloseTo(0, 9);
        for (const d of [-2, -0.01, 0.3, 5]) {
          const back = 1 - differenceShare(second, first, -d);
          expect(Math.abs(differenceShare(first, second, d) - back), `${name} at ${d}`).toBeLessThan(1e-8);
        }
      }
    }
  });

  it('has the shares of seeded draws', () => {
    const chance = chanceFrom(4);
    const draws = 40_000;
    for (const [a, b] of [
      [1.25, 0.25],
      [7.25, 0.25],
      [0.5, 0.02],
      [0.2, 3],
    ] as const) {
      const at = [-1, 0.1, 2, 8];
      const below = at.map(() => 0);
      for (let i = 0; i < draws; i++) {
        const gap = drawGamma(chance, a) / 0.75 - drawGamma(chance, b) / 1.25;
        at.forEach((d, k) => {
          if (gap <= d) below[k]!++;
        });
      }
      at.forEach((d, k) => {
        const share = differenceShare({ shape: a, effort: 0.75 }, { shape: b, effort: 1.25 }, d);
        const error = Math.sqrt((Math.max(share, 1e-4) * (1 - share) + 1e-4) / draws);
        expect(Math.abs(share - below[k]! / draws), `${a} and ${b} at ${d}`).toBeLessThan(4.5 * error);
      });
    }
  });
});

describe('upper limits of counts divided by an index of scatter', () => {
  it('are those of scipy: brentq over quad of stats.gamma.sf(stats.gamma.ppf(u) − d)', () => {
    const known: [number, number, number, number, number, number, number][] = [
      // gross, its runs, background, its runs, index, confidence, limit
      [163, 3, 1, 5, 3, 0.95, 67.92186],
      [163, 3, 1, 5, 4, 0.975, 73.592118],
      [25, 3, 1, 5, 4, 0.975, 17.697108],
      [60, 3, 2, 5, 5, 0.95, 32.045081],
      [60, 3, 1, 3, 6, 0.975, 36.507364],
    ];
    for (const [gross, grossRuns, background, blanks, index, confidence, limit] of known) {
      const parts = {
        gross: gross / index,
        grossEffort: grossRuns / index,
        background: background / index,
        backgroundEffort: blanks / index,
        shares: [],
      };
      expect(netLimit(parts, confidence, 'upper')).toBeCloseTo(limit, 5);
    }
  });
});
