import { describe, expect, it } from 'vitest';
import { meetsMinimum, runsMissing } from './index.ts';

describe('the minimum design', () => {
  it('is 4 + 4 or 3 + 5 at one-sided 5 %: relabellings 1/70 and 1/56; 3 + 4 reaches 1/35 only', () => {
    const reached = [
      [4, 4],
      [3, 5],
      [5, 3],
      [6, 6],
    ] as const;
    for (const [s, c] of reached) expect(meetsMinimum(s, c, 0.05), `${s} + ${c}`).toBe(true);
    for (const [s, c] of [
      [3, 4],
      [3, 3],
      [2, 40],
      [1, 100],
    ] as const) {
      expect(meetsMinimum(s, c, 0.05), `${s} + ${c}`).toBe(false);
    }
  });

  it('asks for the fewest runs more', () => {
    expect(runsMissing(4, 4, 0.05)).toEqual({ controls: 0, specimenRuns: 0 });
    expect(runsMissing(3, 3, 0.05)).toEqual({ controls: 1, specimenRuns: 1 });
    expect(runsMissing(1, 1, 0.05)).toEqual({ controls: 3, specimenRuns: 3 });
    expect(runsMissing(6, 2, 0.05)).toEqual({ controls: 1, specimenRuns: 0 });
  });
});
