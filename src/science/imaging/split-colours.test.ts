import { describe, expect, it } from 'vitest';
import { splitColours } from './split-colours.ts';

const W = 60;
const H = 40;
const scene = (colour: (x: number, y: number) => number | null) => {
  const mask = new Uint8Array(W * H);
  const l = new Float32Array(W * H);
  for (let y = 0; y < H; y++) {
    for (let x = 0; x < W; x++) {
      const c = colour(x, y);
      if (c === null) continue;
      mask[y * W + x] = 1;
      l[y * W + x] = c;
    }
  }
  return splitColours(mask, { l, a: null, b: null }, W, H);
};
const near = (x: number, y: number, cx: number, cy: number, r: number) => Math.hypot(x - cx, y - cy) <= r;

describe('splitColours', () => {
  it('takes apart a light and a dark piece that touch, and a third', () => {
    const two = scene((x, y) => (near(x, y, 18, 20, 11) ? -0.7 : near(x, y, 33, 20, 6) ? -0.4 : null));
    expect(two.count).toBe(2);
    const three = scene((x, y) =>
      near(x, y, 18, 20, 11) ? -0.7 : near(x, y, 33, 20, 6) ? -0.4 : near(x, y, 44, 20, 7) ? -0.7 : null,
    );
    expect(three.count).toBe(3);
  });

  it('leaves a piece whole that is shaded from side to side, or has two faces along its whole length', () => {
    expect(scene((x, y) => (near(x, y, 25, 20, 14) ? -0.3 - 0.02 * x : null)).count).toBe(1);
    expect(scene((x, y) => (near(x, y, 25, 20, 14) ? (y < 20 ? -0.6 : -0.3) : null)).count).toBe(1);
  });

  it('leaves a piece of one colour whole', () => {
    expect(scene((x, y) => (near(x, y, 25, 20, 14) ? -0.5 + 0.01 * ((x * 7 + y * 3) % 5) : null)).count).toBe(
      1,
    );
  });
});
