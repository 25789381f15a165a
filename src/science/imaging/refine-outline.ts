/**
 * An outline that, filled, blurred as the optics blur and set beside the photograph, looks the same. The line of half
 * height alone rounds corners off and swells what is smaller than the blur; moving each point of the outline until
 * drawing and photograph agree there takes both back.
 */
import { coverOf } from './cover.ts';
import type { Point } from './finding.ts';
import { gaussian } from './gaussian.ts';
import type { ContrastSheet } from './linear-contrast.ts';
import { lineArea } from './outline.ts';
import { halve } from './pyramid.ts';

export interface RefineWish {
  /** Blur of the optics, standard deviation, px. */
  readonly blur: number;
  /** Smoothing against noise before outlines are compared, px. */
  readonly smoothing: number;
  /** 1 where print or a neighbour hides what the piece shows: there the outline stays. */
  readonly hidden: Uint8Array | null;
}

/** Moves an outline point at most this far at once, px, and this often. */
const STRIDE = 0.5;
const ROUNDS = 8;
/** An outline none of whose points moved farther than this, px, has settled. */
const SETTLED = 0.03;
/** Reach over which the piece's own height is taken, px, beyond the blur. */
const NEAR = 2.5;

/** The outline after a few rounds; `outline` runs clockwise on the screen. */
export function refineOutline(outline: readonly Point[], sheet: ContrastSheet, wish: RefineWish): Point[] {
  const { width, height } = sheet;
  const total = Math.hypot(wish.blur, wish.smoothing);
  const seen = gaussian(sheet.data, width, height, wish.smoothing);
  const near = NEAR + total;
  // Heights nearby change slowly: blocks of two pixels tell them as well, in a quarter of the time.
  const coarse = { x0: sheet.x0 / 2, y0: sheet.y0 / 2, width: width >> 1, height: height >> 1 };
  const around = (data: Float32Array) =>
    gaussian(halve({ width, height, data }).data, coarse.width, coarse.height, near / 2);
  const calmed = Math.max(1, Math.round((wish.smoothing * wish.smoothing) / 0.7));
  const least = 0.3 / (Math.sqrt(2 * Math.PI) * total);
  let at = evenly(outline);
  for (let round = 0; round < ROUNDS; round++) {
    const drawn = gaussian(coverOf(at, sheet.x0, sheet.y0, width, height), width, height, total);
    const weight = new Float32Array(drawn.length);
    for (let i = 0; i < drawn.length; i++) weight[i] = (drawn[i]! * drawn[i]!) ** 2;
    const below = around(weight);
    const heightSeen = around(times(weight, seen));
    const heightDrawn = around(times(weight, drawn));
    const read = (plane: Float32Array, x: number, y: number) => bilinear(plane, sheet, x, y);
    const readNear = (plane: Float32Array, x: number, y: number) => bilinear(plane, coarse, x / 2, y / 2);
    let moves = new Float64Array(at.length);
    const normals = normalsOf(at);
    at.forEach(([x, y], i) => {
      if (wish.hidden && hiddenAt(wish.hidden, sheet, x, y)) return;
      const w = readNear(below, x, y);
      const hs = readNear(heightSeen, x, y) / w;
      const hd = readNear(heightDrawn, x, y) / w;
      if (!(w > 1e-9) || !(hs > 0)) return;
      const [nx, ny] = normals[i]!;
      const steep = (read(drawn, x - 0.5 * nx, y - 0.5 * ny) - read(drawn, x + 0.5 * nx, y + 0.5 * ny)) / hd;
      const off = read(seen, x, y) / hs - read(drawn, x, y) / hd;
      moves[i] = Math.max(-STRIDE, Math.min(STRIDE, off / Math.max(least, steep)));
    });
    for (let k = 0; k < calmed; k++) moves = smoothed(moves);
    const next = at.map(([x, y], i) => {
      const [nx, ny] = normals[i]!;
      return [x + nx * moves[i]!, y + ny * moves[i]!] as const;
    });
    if (!(lineArea(next) > 0)) return at;
    at = evenly(next);
    if (moves.every((m) => Math.abs(m) < SETTLED)) break;
  }
  return at;
}

function times(a: Float32Array, b: Float32Array): Float32Array {
  const out = new Float32Array(a.length);
  for (let i = 0; i < a.length; i++) out[i] = a[i]! * b[i]!;
  return out;
}

function smoothed(moves: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const n = moves.length;
  return moves.map((m, i) => 0.5 * m + 0.25 * (moves[(i + n - 1) % n]! + moves[(i + 1) % n]!));
}

/** Points about 0.8 px apart along a closed line, at least 12. */
function evenly(line: readonly Point[]): Point[] {
  const closed = [...line, line[0]!];
  const length: number[] = [0];
  for (let i = 1; i < closed.length; i++) {
    const [x, y] = closed[i]!;
    const [u, v] = closed[i - 1]!;
    length.push(length[i - 1]! + Math.hypot(x - u, y - v));
  }
  const whole = length[length.length - 1]!;
  const n = Math.max(12, Math.round(whole / 0.8));
  const out: Point[] = [];
  let k = 0;
  for (let i = 0; i < n; i++) {
    const s = (whole * i) / n;
    while (k + 2 < length.length && length[k + 1]! < s) k++;
    const t = (s - length[k]!) / (length[k + 1]! - length[k]! || 1);
    const [x, y] = closed[k]!;
    const [u, v] = closed[k + 1]!;
    out.push([x + t * (u - x), y + t * (v - y)]);
  }
  return out;
}

/** Outward unit normals of a line that runs clockwise on the screen. */
function normalsOf(line: readonly Point[]): Point[] {
  const n = line.length;
  return line.map((_, i) => {
    const [ax, ay] = line[(i + n - 1) % n]!;
    const [bx, by] = line[(i + 1) % n]!;
    const d = Math.hypot(bx - ax, by - ay) || 1;
    return [(by - ay) / d, -(bx - ax) / d] as const;
  });
}

type Place = Pick<ContrastSheet, 'x0' | 'y0' | 'width' | 'height'>;

function bilinear(plane: Float32Array, sheet: Place, x: number, y: number): number {
  const { width, height } = sheet;
  const u = Math.min(width - 1.001, Math.max(0, x - sheet.x0 - 0.5));
  const v = Math.min(height - 1.001, Math.max(0, y - sheet.y0 - 0.5));
  const i = Math.floor(u);
  const j = Math.floor(v);
  const a = u - i;
  const b = v - j;
  const k = j * width + i;
  const right = i + 1 < width ? 1 : 0;
  const down = j + 1 < height ? width : 0;
  return (
    (plane[k]! * (1 - a) + plane[k + right]! * a) * (1 - b) +
    (plane[k + down]! * (1 - a) + plane[k + down + right]! * a) * b
  );
}

function hiddenAt(hidden: Uint8Array, sheet: ContrastSheet, x: number, y: number): boolean {
  const u = Math.min(sheet.width - 1, Math.max(0, Math.floor(x - sheet.x0)));
  const v = Math.min(sheet.height - 1, Math.max(0, Math.floor(y - sheet.y0)));
  return hidden[v * sheet.width + u] === 1;
}
