/**
 * Outlines between pixels: the line on which a smooth field crosses a level, by linear interpolation on the squares of
 * four pixel middles. Areas and perimeters from it carry no staircase.
 */
import type { Point } from './finding.ts';
import type { Plane } from './pyramid.ts';

/** For each of 16 corner patterns, pairs of edges (0 top, 1 right, 2 bottom, 3 left), each pair read backwards keeps
 * the inside to the right. */
const CROSSINGS: readonly (readonly number[])[] = [
  [],
  [3, 0],
  [0, 1],
  [3, 1],
  [1, 2],
  [],
  [0, 2],
  [3, 2],
  [2, 3],
  [2, 0],
  [],
  [2, 1],
  [1, 3],
  [1, 0],
  [0, 3],
  [],
];

/**
 * All closed lines at `level`; the field counts as below the level beyond its border. Coordinates: pixel (i, j) has its
 * middle at (x0 + i + 0.5, y0 + j + 0.5). Outer lines run clockwise on the screen (positive area), holes the other way.
 */
export function levelLines(field: Plane, level: number, x0 = 0, y0 = 0): Point[][] {
  const { width: w, height: h, data } = field;
  const W = w + 1;
  /** Where each crossed edge leads: edge number → next edge number. Edge 2k is the top of cell k, 2k + 1 its left. */
  const next = new Map<number, number>();
  for (let y = 0; y <= h; y++) {
    const within = y > 0 && y < h;
    for (let x = 0; x <= w; x++) {
      // Inside the field, cells all above or all below the level are passed over quickly.
      if (within && x > 0 && x < w) {
        const i = y * w + x;
        const up = data[i]! >= level;
        if (up === data[i - 1]! >= level && up === data[i - w]! >= level && up === data[i - w - 1]! >= level)
          continue;
      }
      // Cell (x, y) spans the middles of pixels (x − 1, y − 1) and (x, y).
      const a = valueAt(field, level, x - 1, y - 1),
        b = valueAt(field, level, x, y - 1),
        c = valueAt(field, level, x, y),
        d = valueAt(field, level, x - 1, y);
      const k = (a >= level ? 1 : 0) | (b >= level ? 2 : 0) | (c >= level ? 4 : 0) | (d >= level ? 8 : 0);
      if (k === 0 || k === 15) continue;
      if (k === 5 || k === 10) {
        const joined = (a + b + c + d) / 4 >= level;
        const pairs = k === 5 ? (joined ? [1, 0, 3, 2] : [3, 0, 1, 2]) : joined ? [0, 3, 2, 1] : [0, 1, 2, 3];
        next.set(edgeOf(W, x, y, pairs[1]!), edgeOf(W, x, y, pairs[0]!));
        next.set(edgeOf(W, x, y, pairs[3]!), edgeOf(W, x, y, pairs[2]!));
        continue;
      }
      const pair = CROSSINGS[k]!;
      next.set(edgeOf(W, x, y, pair[1]!), edgeOf(W, x, y, pair[0]!));
    }
  }
  const lines: Point[][] = [];
  for (const start of next.keys()) {
    if (!next.has(start)) continue;
    const line: Point[] = [];
    let at: number | undefined = start;
    while (at !== undefined && next.has(at)) {
      line.push(crossing(field, level, at, x0, y0));
      const to: number = next.get(at)!;
      next.delete(at);
      at = to;
    }
    if (line.length >= 3) lines.push(line);
  }
  return lines;
}

/** The field, which beyond its border goes on below the level. */
function valueAt({ width: w, height: h, data }: Plane, level: number, x: number, y: number): number {
  if (x >= 0 && y >= 0 && x < w && y < h) return data[y * w + x]!;
  const beside = data[Math.min(h - 1, Math.max(0, y)) * w + Math.min(w - 1, Math.max(0, x))]!;
  return Math.min(2 * level - beside, level - 1e-6);
}

/** Number of one side of cell (x, y) where a row holds `cells`. */
function edgeOf(cells: number, x: number, y: number, side: number): number {
  if (side === 0) return 2 * (y * cells + x);
  if (side === 2) return 2 * ((y + 1) * cells + x);
  if (side === 3) return 2 * (y * cells + x) + 1;
  return 2 * (y * cells + x + 1) + 1;
}

/** Where the level is crossed on an edge. */
function crossing(field: Plane, level: number, edge: number, x0: number, y0: number): Point {
  const cell = edge >> 1;
  const x = cell % (field.width + 1);
  const y = (cell - x) / (field.width + 1);
  const a = valueAt(field, level, x - 1, y - 1);
  const b = (edge & 1) === 0 ? valueAt(field, level, x, y - 1) : valueAt(field, level, x - 1, y);
  const t = Math.min(1, Math.max(0, (level - a) / (b - a)));
  return (edge & 1) === 0 ? [x0 + x - 0.5 + t, y0 + y - 0.5] : [x0 + x - 0.5, y0 + y - 0.5 + t];
}

/** Length of a step. `Math.hypot` guards against numbers that pixels never reach, and takes ten times as long. */
export const lengthOf = (dx: number, dy: number): number => Math.sqrt(dx * dx + dy * dy);

/** Signed area of a closed line (positive: clockwise on the screen). */
export function lineArea(line: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < line.length; i++) {
    const p = line[i]!;
    const q = line[i + 1 === line.length ? 0 : i + 1]!;
    twice += p[0] * q[1] - q[0] * p[1];
  }
  return twice / 2;
}

export function lineLength(line: readonly Point[]): number {
  let sum = 0;
  for (let i = 0; i < line.length; i++) {
    const p = line[i]!;
    const q = line[i + 1 === line.length ? 0 : i + 1]!;
    sum += lengthOf(q[0] - p[0], q[1] - p[1]);
  }
  return sum;
}

/** Centre of the enclosed area. */
export function lineCentre(line: readonly Point[]): Point {
  const [ox, oy] = line[0]!;
  let twice = 0;
  let cx = 0;
  let cy = 0;
  for (let i = 0; i < line.length; i++) {
    const [x, y] = line[i]!;
    const [u, v] = line[i + 1 === line.length ? 0 : i + 1]!;
    const cross = (x - ox) * (v - oy) - (u - ox) * (y - oy);
    twice += cross;
    cx += (x + u - 2 * ox) * cross;
    cy += (y + v - 2 * oy) * cross;
  }
  if (Math.abs(twice) < 1e-12) return [ox, oy];
  return [ox + cx / (3 * twice), oy + cy / (3 * twice)];
}

/** Whether a point lies inside a closed line (even–odd). */
export function insideLine(line: readonly Point[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = line.length - 1; i < line.length; j = i++) {
    const a = line[i]!;
    const b = line[j]!;
    if (a[1] > y === b[1] > y) continue;
    if (x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside;
}

/** Crossings of a pixel-fine outline jitter by noise: each point moves to the mean of itself and its neighbours. */
export function calm(line: readonly Point[], rounds = 1): Point[] {
  let at = line.slice();
  for (let r = 0; r < rounds; r++) {
    const n = at.length;
    const next: Point[] = [];
    for (let i = 0; i < n; i++) {
      const p = at[i]!;
      const q = at[i === 0 ? n - 1 : i - 1]!;
      const s = at[i + 1 === n ? 0 : i + 1]!;
      next.push([0.5 * p[0] + 0.25 * (q[0] + s[0]), 0.5 * p[1] + 0.25 * (q[1] + s[1])]);
    }
    at = next;
  }
  return at;
}
