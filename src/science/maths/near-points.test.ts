import { describe, expect, it } from 'vitest';
import { chanceFrom } from './chance.ts';
import { nearPoints, type PlanePoint } from './near-points.ts';

describe('the nearest of many points', () => {
  const chance = chanceFrom(3);
  const points = Array.from(
    { length: 400 },
    (): PlanePoint => [100 * chance.uniform(), 100 * chance.uniform()],
  );
  const near = nearPoints(points);

  it('is the one that looking at all of them gives', () => {
    for (let k = 0; k < 200; k++) {
      const from: PlanePoint = [100 * chance.uniform(), 100 * chance.uniform()];
      const even = (index: number) => index % 2 === 0;
      const all = points
        .map(([x, y], index) => ({ index, d: Math.hypot(x - from[0], y - from[1]) }))
        .filter(({ index }) => even(index))
        .sort((p, q) => p.d - q.d);
      expect(near.nearest(from, 200, even)).toBe(all[0]!.index);
    }
  });

  it('is none beyond the reach, among none, or where none fits', () => {
    expect(near.nearest([500, 50], 10, () => true)).toBe(-1);
    expect(nearPoints([]).nearest([0, 0], 10, () => true)).toBe(-1);
    expect(near.nearest([50, 50], 100, () => false)).toBe(-1);
  });
});
