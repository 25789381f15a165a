/** Caliper diameters of an outline (ISO 9276-6): on its convex hull, by rotating calipers. */
import type { Point } from './finding.ts';
import { lengthOf, lineArea, lineLength } from './outline.ts';

/** Convex hull, clockwise on the screen, without points on its sides. */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = points.slice().sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  if (sorted.length < 3) return sorted;
  const half = (list: readonly Point[]): Point[] => {
    const out: Point[] = [];
    for (const p of list) {
      while (out.length >= 2) {
        const a = out[out.length - 2]!;
        const b = out[out.length - 1]!;
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    out.pop();
    return out;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

export interface Calipers {
  readonly max: number;
  readonly min: number;
  /** Area of the convex hull. */
  readonly hullArea: number;
  readonly hullPerimeter: number;
}

export function calipers(points: readonly Point[]): Calipers {
  const hull = convexHull(points);
  const n = hull.length;
  let max = 0;
  let min = Number.POSITIVE_INFINITY;
  // The corner farthest from a side walks on as the side does: both go once around.
  let k = 1;
  for (let i = 0; i < n; i++) {
    const [x, y] = hull[i]!;
    const [u, v] = hull[(i + 1) % n]!;
    const length = lengthOf(u - x, v - y);
    if (!(length > 0)) continue;
    const away = (j: number) =>
      Math.abs((u - x) * (hull[j % n]![1] - y) - (v - y) * (hull[j % n]![0] - x)) / length;
    if (i === 0) while (k + 1 < n && away(k + 1) >= away(k)) k++;
    else for (let steps = 0; steps < n && away(k + 1) >= away(k); steps++) k++;
    min = Math.min(min, away(k));
    for (const j of [k, k + 1, k + n - 1]) {
      const [p, q] = hull[j % n]!;
      max = Math.max(max, lengthOf(p - x, q - y), lengthOf(p - u, q - v));
    }
  }
  if (!Number.isFinite(min)) min = 0;
  return { max, min, hullArea: Math.abs(lineArea(hull)), hullPerimeter: lineLength(hull) };
}

export interface OutlineMeasures {
  readonly area: number;
  readonly perimeter: number;
  readonly feretMax: number;
  readonly feretMin: number;
  /** √(4πA/P²), at most 1. */
  readonly circularity: number;
  readonly solidity: number;
}

/** Measures of a closed outline in its own unit of length. Source: ISO 9276-6:2008, definitions. */
export function measureOutline(line: readonly Point[]): OutlineMeasures {
  if (line.length < 3) throw new RangeError(`outline: at least 3 points are needed, given ${line.length}`);
  const area = Math.abs(lineArea(line));
  const perimeter = lineLength(line);
  const c = calipers(line);
  return {
    area,
    perimeter,
    feretMax: c.max,
    feretMin: c.min,
    circularity: perimeter > 0 ? Math.min(1, Math.sqrt((4 * Math.PI * area) / (perimeter * perimeter))) : 0,
    solidity: c.hullArea > 0 ? Math.min(1, area / c.hullArea) : 1,
  };
}
