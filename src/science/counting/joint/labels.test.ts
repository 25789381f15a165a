import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBelow } from '../../maths/index.ts';
import { relabellingTest } from './labels.ts';

const runs = (counts: readonly number[], fraction = 1) => counts.map((count) => ({ count, fraction }));

describe('relabelling', () => {
  it('reaches 1/70 with 4 + 4 and 1/924 with 6 + 6 wholly apart', () => {
    expect(relabellingTest(runs([9, 8, 7, 6]), runs([1, 2, 3, 4])).p).toBeCloseTo(1 / 70, 12);
    const six = relabellingTest(runs([9, 8, 7, 6, 9, 8]), runs([1, 2, 3, 4, 0, 1]));
    expect(six.p).toBeCloseTo(1 / 924, 12);
    expect(six.smallest).toBeCloseTo(1 / 924, 12);
    expect(six.method).toBe('all');
  });

  it('looks at all of few relabellings, however large the counts: never below 1/70 with 4 + 4', () => {
    const large = relabellingTest(runs([1e5, 1e5, 1e5, 1e5]), runs([10, 20, 15, 11]));
    expect(large).toMatchObject({ method: 'all' });
    expect(large.p).toBeCloseTo(1 / 70, 12);
  });

  it('counts relabellings by their sums as it would one by one, for any counts and group sizes', () => {
    const chance = chanceFrom(4);
    for (let i = 0; i < 40; i++) {
      const a = Array.from({ length: 2 + drawBelow(chance, 7) }, () => drawBelow(chance, 4));
      const b = Array.from({ length: 2 + drawBelow(chance, 7) }, () => drawBelow(chance, 3));
      // counts far apart by a common factor are too large to be counted by their sums
      const far = (list: readonly number[]) => list.map((x) => x * 10_007);
      expect(relabellingTest(runs(a), runs(b)).p).toBeCloseTo(
        relabellingTest(runs(far(a)), runs(far(b))).p,
        10,
      );
    }
  });

  it('is one when nothing was counted, and when all counts are alike', () => {
    expect(relabellingTest(runs([0, 0, 0, 0]), runs([0, 0, 0, 0])).p).toBe(1);
    expect(relabellingTest(runs([5, 5, 5]), runs([5, 5, 5])).p).toBe(1);
  });

  it('draws relabellings of large studies from the seed, near the exact share', () => {
    const chance = chanceFrom(9);
    const a = Array.from({ length: 120 }, () => 300 + drawBelow(chance, 200));
    const b = Array.from({ length: 120 }, () => 290 + drawBelow(chance, 200));
    const one = relabellingTest(runs(a), runs(b), 3);
    expect(one.method).toBe('drawn');
    expect(relabellingTest(runs(a), runs(b), 3).p).toBe(one.p);
    const other = relabellingTest(runs(a), runs(b), 4).p;
    expect(Math.abs(one.p - other)).toBeLessThan(6 * Math.sqrt(one.p / 20_000) + 1e-3);
  });

  it('gives every draw the sum that adding up its runs gives, kept draws and fresh ones alike', () => {
    // the plain way: shuffle the runs' counts themselves and add
    const plainly = (first: readonly number[], second: readonly number[], seed: number): number => {
      const chance = chanceFrom(seed);
      const pool = [...first, ...second];
      const total = pool.reduce((sum, c) => sum + c, 0);
      const observed = first.reduce((sum, c) => sum + c, 0);
      const k = Math.min(first.length, second.length);
      let hits = 1;
      for (let draw = 0; draw < 20_000; draw++) {
        let sum = 0;
        for (let i = 0; i < k; i++) {
          const j = i + drawBelow(chance, pool.length - i);
          [pool[i], pool[j]] = [pool[j]!, pool[i]!];
          sum += pool[i]!;
        }
        if ((first.length <= second.length ? sum : total - sum) >= observed) hits++;
      }
      return hits / 20_001;
    };
    const chance = chanceFrom(12);
    const drawn = (n: number) => Array.from({ length: n }, () => 300 + drawBelow(chance, 90));
    for (const [n, m] of [
      [83, 77],
      [70, 91],
      [80, 80],
    ] as const) {
      for (let again = 0; again < 2; again++) {
        const [a, b] = [drawn(n), drawn(m)];
        const answer = relabellingTest(runs(a), runs(b), 5);
        expect(answer.method).toBe('drawn');
        expect(answer.p).toBe(plainly(a, b, 5));
      }
    }
  });

  it('does not take fewer squares looked at for fewer pieces', () => {
    // controls at a twentieth: their zeros say nothing, and raw rates would look wholly apart
    const careless = relabellingTest(runs([2, 1, 3, 2]), runs([0, 0, 0, 0], 0.05));
    expect(careless.p).toBeGreaterThan(0.5);
    expect(careless.method).toBe('all-after-thinning');
    expect(relabellingTest(runs([2, 1, 3, 2]), runs([0, 0, 0, 0])).p).toBeCloseTo(1 / 70, 12);
  });
});
