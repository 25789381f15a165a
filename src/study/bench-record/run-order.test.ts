import { describe, expect, it } from 'vitest';
import { interleaved } from './run-order.ts';

const runs = ['S1', 'S2', 'S3', 'S4', 'S5', 'S6', 'C1', 'C2', 'C3', 'C4', 'C5', 'C6', 'B1', 'B2', 'B3'];
const kind = (name: string) => name[0]!;

describe('interleaved order', () => {
  it('is the same for the same seed, another for another, and loses no run', () => {
    const seven = interleaved(runs, kind, 7);
    expect(interleaved(runs, kind, 7)).toEqual(seven);
    expect(interleaved(runs, kind, 8)).not.toEqual(seven);
    expect([...seven].sort()).toEqual([...runs].sort());
  });

  it('spreads every kind: each third of the order holds a third of each, give or take one', () => {
    for (let seed = 0; seed < 300; seed++) {
      const order = interleaved(runs, kind, seed);
      for (const [letter, many] of [
        ['S', 6],
        ['C', 6],
        ['B', 3],
      ] as const) {
        for (const third of [0, 1, 2]) {
          const there = order.slice(5 * third, 5 * third + 5).filter((name) => kind(name) === letter).length;
          expect(Math.abs(there - many / 3)).toBeLessThanOrEqual(1);
        }
      }
    }
  });

  it('leaves to chance who comes first: each run of a kind in a third of the seeds, each place about as often', () => {
    const first = new Map<string, number>();
    const seeds = 3000;
    for (let seed = 0; seed < seeds; seed++) {
      const name = interleaved(['a1', 'a2', 'a3', 'b1', 'b2', 'b3'], kind, seed)[0]!;
      first.set(name, (first.get(name) ?? 0) + 1);
    }
    // One in six each; binomial standard deviation √(3000 · 1/6 · 5/6) = 20.4, held within four.
    for (const times of first.values()) expect(Math.abs(times - seeds / 6)).toBeLessThan(4 * 20.4);
    expect(first.size).toBe(6);
  });

  it('refuses a seed that is no whole number', () => {
    expect(() => interleaved(runs, kind, 0.5)).toThrow(RangeError);
  });
});
