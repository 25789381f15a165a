import { describe, expect, it } from 'vitest';
import { coverOf } from './cover.ts';
import { measureOutline } from './feret.ts';
import type { Point } from './finding.ts';
import { gaussian } from './gaussian.ts';
import { levelLines, lineArea } from './outline.ts';
import { refineOutline } from './refine-outline.ts';

const SIZE = 72;
const polygon = (corners: readonly Point[], turn: number, size: number): Point[] =>
  corners.map(([x, y]) => {
    const c = Math.cos(turn) * size;
    const s = Math.sin(turn) * size;
    return [SIZE / 2 + 0.3 + c * x - s * y, SIZE / 2 - 0.2 + s * x + c * y] as const;
  });
const square: Point[] = [
  [-0.5, -0.5],
  [0.5, -0.5],
  [0.5, 0.5],
  [-0.5, 0.5],
];
const triangle: Point[] = [0, 1, 2].map((k) => [
  0.6 * Math.cos((2 * Math.PI * k) / 3),
  0.6 * Math.sin((2 * Math.PI * k) / 3),
]);
const disc: Point[] = Array.from({ length: 120 }, (_, k) => [
  0.5 * Math.cos((2 * Math.PI * k) / 120),
  0.5 * Math.sin((2 * Math.PI * k) / 120),
]);

/** Draws a form, blurs it, outlines it at half height, and refines that. */
function outlined(form: readonly Point[], blur: number): { half: Point[]; refined: Point[] } {
  const cover = coverOf(form, 0, 0, SIZE, SIZE);
  const data = gaussian(cover, SIZE, SIZE, blur).map((v) => 0.4 * v);
  const sheet = { x0: 0, y0: 0, width: SIZE, height: SIZE, data, most: 1 };
  const top = data.reduce((m, v) => Math.max(m, v), 0);
  const lines = levelLines({ width: SIZE, height: SIZE, data }, top / 2);
  const half = lines.reduce((a, b) => (lineArea(b) > lineArea(a) ? b : a));
  return { half, refined: refineOutline(half, sheet, { blur, smoothing: 0, hidden: null }) };
}

describe('refineOutline', () => {
  it.each([
    ['square', square, 12],
    ['square', square, 30],
    ['triangle', triangle, 16],
    ['triangle', triangle, 40],
    ['disc', disc, 6],
    ['disc', disc, 24],
  ] as const)('gives a blurred %s its size back (%#)', (_, corners, size) => {
    const form = polygon(corners, 0.4, size);
    const { half, refined } = outlined(form, 1.3);
    const truth = measureOutline(form);
    const found = measureOutline(refined);
    const before = measureOutline(half);
    const off = Math.abs(found.feretMax / truth.feretMax - 1);
    expect(off).toBeLessThan(0.08);
    expect(off).toBeLessThanOrEqual(Math.abs(before.feretMax / truth.feretMax - 1) / 2 + 0.01);
    expect(Math.abs(found.area / truth.area - 1)).toBeLessThan(0.03);
  });

  it('covers exactly what an outline encloses', () => {
    const form = polygon(triangle, 1, 33);
    const sum = coverOf(form, 0, 0, SIZE, SIZE).reduce((s, v) => s + v, 0);
    expect(sum).toBeCloseTo(measureOutline(form).area, 0);
  });
});
