import { describe, expect, it } from 'vitest';
import { calipers, convexHull, measureOutline } from './feret.ts';
import type { Point } from './finding.ts';
import { insideLine, levelLines, lineArea, lineCentre, lineLength } from './outline.ts';
import { plane, smooth } from './pyramid.ts';

const ellipse = (a: number, b: number, n = 8000): Point[] =>
  Array.from({ length: n }, (_, i) => {
    const t = (2 * Math.PI * i) / n;
    return [a * Math.cos(t), b * Math.sin(t)] as const;
  });
const rectangle = (w: number, h: number): Point[] => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];

// Values: definitions of ISO 9276-6:2008 worked out for exact shapes.
describe('measures of exact shapes', () => {
  it.each([
    ['square', rectangle(1, 1), 0.886227, Math.SQRT2, 1],
    ['rectangle 2:1', rectangle(2, 1), 0.835543, 2.236068, 1],
    ['rectangle 5:1', rectangle(5, 1), 0.660555, 5.09902, 1],
    ['rectangle 10:1', rectangle(10, 1), 0.509545, 10.049876, 1],
    ['rectangle 20:1', rectangle(20, 1), 0.37746, 20.024984, 1],
    ['ellipse 2:1', ellipse(2, 1), 0.917151, 4, 2],
    ['ellipse 3:1', ellipse(3, 1), 0.814282, 6, 2],
    ['ellipse 5:1', ellipse(5, 1), 0.66871, 10, 2],
    ['ellipse 10:1', ellipse(10, 1), 0.48891, 20, 2],
  ] as const)('%s', (_, outline, circularity, max, min) => {
    const m = measureOutline(outline);
    expect(m.circularity).toBeCloseTo(circularity, 5);
    expect(m.feretMax).toBeCloseTo(max, 5);
    expect(m.feretMin).toBeCloseTo(min, 5);
    expect(m.solidity).toBeCloseTo(1, 6);
  });

  it('has the solidity of an L of three squares and of a plus of five', () => {
    const l: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [2, 1],
      [2, 2],
      [0, 2],
    ];
    expect(measureOutline(l).solidity).toBeCloseTo(6 / 7, 9);
    const plus: Point[] = [
      [1, 0],
      [2, 0],
      [2, 1],
      [3, 1],
      [3, 2],
      [2, 2],
      [2, 3],
      [1, 3],
      [1, 2],
      [0, 2],
      [0, 1],
      [1, 1],
    ];
    expect(measureOutline(plus).solidity).toBeCloseTo(5 / 7, 9);
  });

  it('has the ratio of least to greatest Feret diameter of triangle and hexagon', () => {
    const regular = (n: number) => ellipse(1, 1, n);
    const triangle = calipers(regular(3));
    expect(triangle.min / triangle.max).toBeCloseTo(0.866025, 6);
    const hexagon = calipers(regular(6));
    expect(hexagon.min / hexagon.max).toBeCloseTo(0.866025, 6);
    expect(measureOutline(regular(6)).circularity).toBeCloseTo(0.952313, 6);
  });

  it('gives the perimeter of the ellipse with semi-axes 2 and 1', () => {
    expect(lineLength(ellipse(2, 1))).toBeCloseTo(9.688448, 5);
  });

  it('refuses an outline of two points', () => {
    expect(() =>
      measureOutline([
        [0, 0],
        [1, 1],
      ]),
    ).toThrow(RangeError);
  });
});

describe('outlines between pixels', () => {
  const disc = (r: number, soft: boolean, cx = 0, cy = 0) => {
    const n = 2 * Math.ceil(r) + 9;
    const p = plane(n, n);
    for (let y = 0; y < n; y++) {
      for (let x = 0; x < n; x++) {
        const d = r - Math.hypot(x - (n - 1) / 2 - cx, y - (n - 1) / 2 - cy);
        p.data[y * n + x] = soft ? Math.min(1, Math.max(0, d + 0.5)) : d >= 0 ? 1 : 0;
      }
    }
    return p;
  };

  it('run clockwise on the screen around what is above the level, and the other way around holes', () => {
    const ring = disc(12, true);
    const hole = disc(5, true);
    const off = (ring.width - hole.width) / 2;
    for (let y = 0; y < hole.height; y++) {
      for (let x = 0; x < hole.width; x++)
        ring.data[(y + off) * ring.width + x + off]! -= hole.data[y * hole.width + x]!;
    }
    const areas = levelLines(ring, 0.5).map(lineArea);
    expect(areas).toHaveLength(2);
    expect(Math.max(...areas)).toBeGreaterThan(0);
    expect(Math.min(...areas)).toBeLessThan(0);
  });

  it.each([3, 5, 10, 20])('measure a soft disc of radius %d', (r) => {
    const [line] = levelLines(disc(r, true, 0.3, -0.2), 0.5);
    const m = measureOutline(line!);
    expect(Math.abs(m.area / (Math.PI * r * r) - 1)).toBeLessThan(0.025);
    expect(Math.abs(m.perimeter / (2 * Math.PI * r) - 1)).toBeLessThan(0.012);
    expect(Math.abs(m.feretMax / (2 * r) - 1)).toBeLessThan(0.012);
    const middle = (disc(r, true).width - 1) / 2 + 0.5;
    const [x, y] = lineCentre(line!);
    expect(x).toBeCloseTo(middle + 0.3, 1);
    expect(y).toBeCloseTo(middle - 0.2, 1);
    expect(insideLine(line!, x, y)).toBe(true);
    expect(insideLine(line!, x + r + 1, y)).toBe(false);
  });

  // Kröner & Doménech Carbó, Powder Technology 2013, doi 10.1016/j.powtec.2013.04.048: counts of pixel sides give
  // circularities above 1 to small digital discs.
  it.each([2, 3, 5, 10, 20, 50])('give a digital disc of radius %d no circularity above 1', (r) => {
    const [line] = levelLines(smooth(disc(r, false)), 0.5);
    const m = measureOutline(line!);
    expect(m.circularity).toBeLessThanOrEqual(1);
    const raw = Math.sqrt(4 * Math.PI * m.area) / m.perimeter;
    expect(raw).toBeLessThanOrEqual(1 + 1e-9);
    expect(raw).toBeGreaterThan(0.97);
  });

  it('close at the border of the window', () => {
    const p = plane(4, 3);
    p.data.fill(1);
    const [line] = levelLines(p, 0.5);
    expect(lineArea(line!)).toBeGreaterThan(11);
    expect(lineArea(line!)).toBeLessThan(12.01);
  });
});

describe('the convex hull', () => {
  it('leaves out what is inside and on its sides', () => {
    const hull = convexHull([...rectangle(4, 4), [2, 2], [2, 0], [1, 3]]);
    expect(hull).toHaveLength(4);
    expect(lineArea(hull)).toBe(16);
  });
});
