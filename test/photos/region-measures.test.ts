/**
 * Measures against scikit-image's regionprops on the same masks (figures frozen by region-measures.py), and both against
 * exact shapes. Where definitions differ:
 * - area: regionprops counts pixels, ours is what the smooth outline encloses; they agree to the pixels at the rim.
 * - maximum Feret: regionprops measures between the sides of pixels on a contour at half height of the mask, ours on
 *   the outline. Both are a little long or short of the truth by a part of a pixel.
 * - solidity: regionprops counts the hull in whole pixels, so thin and small shapes seem less solid there.
 * - perimeter: regionprops' first weighs pixel steps, its second (Crofton) counts crossings in four directions; ours is
 *   the length of the outline, which has no staircase.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { measureOutline } from '../../src/science/imaging/index.ts';
import { levelLines, lineArea } from '../../src/science/imaging/outline.ts';
import { type Plane, smooth } from '../../src/science/imaging/pyramid.ts';

interface Told {
  readonly area: number;
  readonly feret_max: number;
  readonly perimeter: number;
  readonly perimeter_crofton: number;
  readonly solidity: number;
}
interface Case {
  readonly name: string;
  readonly exact: { readonly area: number; readonly feret_max: number; readonly perimeter: number } | null;
  readonly regionprops: Told;
  readonly width: number;
  readonly height: number;
  readonly runs: readonly number[];
}
const { source, cases }: { source: string; cases: Case[] } = JSON.parse(
  readFileSync(new URL('./region-measures.known.json', import.meta.url), 'utf8'),
);

/** Outline of a mask as the user's own redrawing makes it: twice as fine, smoothed, at half height. */
function outlined(c: Case) {
  const width = 2 * c.width;
  const height = 2 * c.height;
  const data = new Float32Array(width * height);
  for (let i = 0; i < c.runs.length; i += 3) {
    for (let v = 0; v < 2; v++) {
      const row = (2 * c.runs[i]! + v) * width;
      data.fill(1, row + 2 * c.runs[i + 1]!, row + 2 * c.runs[i + 2]!);
    }
  }
  let field: Plane = { width, height, data };
  for (let k = 0; k < 4; k++) field = smooth(field);
  const lines = levelLines(field, 0.5).sort((a, b) => lineArea(b) - lineArea(a));
  return measureOutline(lines[0]!.map(([x, y]) => [x / 2, y / 2] as const));
}
const off = (a: number, b: number): number => Math.abs(a / b - 1);

describe(`measures against ${source}`, () => {
  it('has the exact shapes and the 24 coins', () => {
    expect(cases.filter((c) => c.exact)).toHaveLength(7);
    expect(cases.filter((c) => !c.exact)).toHaveLength(24);
  });

  it.each(cases.map((c) => [c.name, c] as const))('%s', (_, c) => {
    const ours = outlined(c);
    const theirs = c.regionprops;
    expect(off(ours.area, theirs.area)).toBeLessThan(0.03);
    expect(Math.abs(ours.feretMax - theirs.feret_max)).toBeLessThan(1.6);
    expect(off(ours.perimeter, theirs.perimeter_crofton)).toBeLessThan(c.exact ? 0.08 : 0.06);
    expect(Math.abs(ours.solidity - theirs.solidity)).toBeLessThan(0.1);
    if (!c.exact) return;
    expect(off(ours.area, c.exact.area)).toBeLessThan(0.06);
    expect(Math.abs(ours.feretMax - c.exact.feret_max)).toBeLessThan(1.5);
    expect(off(ours.perimeter, c.exact.perimeter)).toBeLessThan(0.07);
    expect(ours.circularity).toBeLessThanOrEqual(1);
  });
});
