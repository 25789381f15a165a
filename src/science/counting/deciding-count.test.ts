import { describe, expect, it } from 'vitest';
import type { CountingInput } from './counting-input.ts';
import { decidingCount } from './deciding-count.ts';
import { judge } from './judge.ts';

const input = (portions: number[], controls: number[]): CountingInput => ({
  portions: portions.map((count, i) => ({ name: `p${i}`, count, massG: 1, passed: 1, examined: 1 })),
  controls: controls.map((count, i) => ({ name: `c${i}`, kind: 'blank', count, passed: 1, examined: 1 })),
  recovery: null,
  drill: null,
  confidence: 0.95,
});

describe('the count that decides', () => {
  it('is the exact one where the exact test decides, and none where the model does', () => {
    expect(decidingCount(input([3], [0]), 'conditional-exact', 5, 0.05)).toBe(5);
    expect(decidingCount(input([3], [0]), 'joint-model', 5, 0.05)).toBeNull();
  });

  // 4 + 4 runs, controls all none: any two specimen runs with particles give 6 of 70 relabellings or more that reach the
  // total (p = 15/70); three give p = 5/70 = 0.071; only four of four reach 1/70
  it('needs a particle on every one of four runs against four empty controls', () => {
    expect(decidingCount(input([0, 0, 0, 0], [0, 0, 0, 0]), 'permutation', 3, 0.05)).toBe(4);
  });

  it.each([
    [
      [9, 12, 8, 11],
      [2, 3, 1, 4],
    ],
    [
      [4, 40, 9, 6],
      [8, 2, 11, 5],
    ],
  ])('agrees with judging: the count above, one less not (%j)', (portions, controls) => {
    const of = (p: number[]) => judge(input(p, controls));
    const first = of(portions);
    if (!first.ok) throw new Error(first.refusal.message);
    const { decidingCount: total } = first.value.thresholds;
    const share = (n: number) => {
      const sum = portions.reduce((s, x) => s + x, 0);
      const wanted = portions.map((x) => (n * x) / sum);
      const counts = wanted.map(Math.floor);
      const order = wanted.map((x, i) => [x - Math.floor(x), i] as const).sort((a, b) => b[0] - a[0]);
      for (let k = 0, left = n - counts.reduce((s, x) => s + x, 0); k < left; k++) counts[order[k]![1]]!++;
      return counts;
    };
    const above = (n: number) => {
      const judged = of(share(n));
      return judged.ok && judged.value.aboveBackground;
    };
    expect(above(total!)).toBe(true);
    expect(above(total! - 1)).toBe(false);
  });
});
