import { describe, expect, it } from 'vitest';
import { begun, closed, dragged, lengthPx, released, withCorner, withoutLast } from './sketch.ts';

describe('a sketch on a photograph', () => {
  it('draws a line by one drag or by two corners', () => {
    const byDrag = released(dragged(withCorner(begun('cut'), [0, 0]), [2, 3], 1), [3, 4], 1);
    expect(byDrag).toMatchObject({
      points: [
        [0, 0],
        [3, 4],
      ],
      done: true,
    });
    expect(lengthPx(byDrag)).toBe(5);
    const clicked = released(withCorner(begun('measure'), [0, 0]), [0.2, 0], 1);
    expect(clicked.done).toBe(false);
    expect(lengthPx(withCorner(clicked, [6, 8]))).toBe(10);
  });

  it('starts a measured line anew after a whole one', () => {
    const whole = withCorner(withCorner(begun('measure'), [0, 0]), [9, 0]);
    expect(withCorner(whole, [5, 5])).toMatchObject({ points: [[5, 5]], done: false });
  });

  it('draws an outline in one go and by single corners', () => {
    let free = withCorner(begun('draw'), [0, 0]);
    for (let k = 1; k < 10; k++) free = dragged(free, [k * 4, k % 2], 1);
    expect(dragged(free, [36.5, 1], 1).points).toHaveLength(free.points.length);
    expect(released(free, [36, 1], 1).done).toBe(true);
    const corners = [
      [0, 0],
      [9, 0],
      [9, 9],
    ] as const;
    const set = corners.reduce((sketch, at) => released(withCorner(sketch, at), at, 1), begun('redraw'));
    expect(set).toMatchObject({ points: corners, done: false });
    expect(closed(set).done).toBe(true);
    expect(closed(withoutLast(set)).done).toBe(false);
  });
});
