import { describe, expect, it } from 'vitest';
import { barOf, following, placeIn, startOf } from './together.ts';

const at = (x: number, y: number, perScreenPx: number) => ({ middle: [x, y] as const, perScreenPx });

describe('two photographs moved together', () => {
  it('shows both at the same µm in a pixel of the screen and moves both by the same µm', () => {
    const next = following(at(0, 0, 1), at(100, 50, 2), at(10, 10, 1), [6, 3]);
    expect(next).toEqual({ perScreenPx: 4, middle: [210, 110] });
  });
  it('takes pixels for µm where a scale is missing', () => {
    expect(following(at(0, 0, 1), at(5, 0, 2), at(1, 1, 9), [null, 3])).toEqual(at(6, 1, 2));
  });
  it('draws a round bar that fits', () => {
    expect(barOf(6, 120)).toEqual({ um: 500, px: 500 / 6 });
    expect(barOf(1, 100)).toEqual({ um: 100, px: 100 });
    expect(barOf(0.9, 100).um).toBe(50);
  });
  it('begins at the place that the address names, at the same scale on both', () => {
    expect(placeIn('#at=1200,845')).toEqual([1200, 845]);
    for (const other of ['', '#at=1', '#at=-1,2', '#at=1,2,3', '#piece'])
      expect(placeIn(other), other).toBeNull();
    expect(startOf([1200, 840], [6, 3])).toEqual([at(1200, 840, 1), at(2400, 1680, 2)]);
    expect(startOf([1200, 840], [null, 3])).toEqual([at(1200, 840, 1), at(1200, 840, 1)]);
    expect(startOf(null, [6, 3])).toEqual([null, null]);
  });
});
