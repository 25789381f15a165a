import { describe, expect, it } from 'vitest';
import { coverOf } from './cover.ts';
import { fitFibre } from './fibre-profile.ts';
import type { Point } from './finding.ts';
import { gaussian } from './gaussian.ts';
import { wayLength } from './middle-line.ts';
import { ribbon } from './ribbon.ts';

const W = 110;
const H = 70;
const bow: Point[] = Array.from({ length: 81 }, (_, i) => [15 + i, 35 + 8 * Math.sin(i / 30)] as const);

function drawn(width: number, blur: number, shadow: number) {
  const body = coverOf(ribbon(bow, width / 2), 0, 0, W, H);
  const below = bow.map(([x, y]) => [x, y + width / 2 + 1.2] as const);
  const shade = coverOf(ribbon(below, 1.2), 0, 0, W, H);
  const light = body.map((v, i) => 0.6 * (v + shadow * (1 - v) * shade[i]!));
  return { x0: 0, y0: 0, width: W, height: H, data: gaussian(light, W, H, blur), most: 1 };
}

describe('fitFibre', () => {
  it.each([
    [1.5, 1, 0],
    [2.5, 1, 0],
    [4, 1.3, 0],
    [6, 1.3, 0],
    [2.5, 1, 0.25],
    [4, 1, 0.25],
  ])('tells a fibre %f px wide through a blur of %f px, its shadow %f', (width, blur, shadow) => {
    // The line as thinning gives it: off by a pixel here and there, short at both ends.
    const rough = bow.slice(3, -3).map(([x, y], i) => [x, y + (i % 7 < 3 ? 0.6 : -0.3)] as const);
    const fit = fitFibre(rough, drawn(width, blur, shadow), {
      blur,
      rough: 1.5 * width + 1,
      hidden: null,
      most: 1,
    });
    expect(fit).not.toBeNull();
    expect(Math.abs(fit!.width / width - 1)).toBeLessThan(shadow > 0 ? 0.25 : 0.15);
    expect(Math.abs(wayLength(fit!.line) / wayLength(bow) - 1)).toBeLessThan(0.02);
  });
});
