/**
 * An outline that, filled, blurred as the optics blur and set beside the photograph, looks the same. The line of half
 * height alone rounds corners off and swells what is smaller than the blur; moving each point of the outline until
 * drawing and photograph agree there takes both back.
 */
import { coverOfLine } from './cover.ts';
import type { Point } from './finding.ts';
import { gaussian } from './gaussian.ts';
import { inRoom, roomOf, takeFloats } from './kernels/room.ts';
import type { ContrastSheet } from './linear-contrast.ts';
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
export const refineOutline = (outline: readonly Point[], sheet: ContrastSheet, wish: RefineWish): Point[] =>
  inRoom(refined, outline, sheet, wish);

function refined(outline: readonly Point[], sheet: ContrastSheet, wish: RefineWish): Point[] {
  const seen = gaussian(sheet.data, sheet.width, sheet.height, wish.smoothing);
  let at = evenly(flat(outline));
  for (let round = 0; round < ROUNDS; round++) {
    const normals = normalsOf(at);
    const moves = inRoom(movesOf, at, normals, seen, sheet, wish);
    const next = new Float64Array(at.length);
    let most = 0;
    for (let i = 0; i < moves.length; i++) {
      const m = moves[i]!;
      next[2 * i] = at[2 * i]! + normals[2 * i]! * m;
      next[2 * i + 1] = at[2 * i + 1]! + normals[2 * i + 1]! * m;
      most = Math.max(most, Math.abs(m));
    }
    if (!(areaOf(next) > 0)) break;
    at = evenly(next);
    if (most < SETTLED) break;
  }
  const points: Point[] = [];
  for (let i = 0; i < at.length; i += 2) points.push([at[i]!, at[i + 1]!]);
  return points;
}

/** Lines here hold x and y by turns. */
function flat(line: readonly Point[]): Float64Array {
  const out = new Float64Array(2 * line.length);
  for (let i = 0; i < line.length; i++) {
    const p = line[i]!;
    out[2 * i] = p[0];
    out[2 * i + 1] = p[1];
  }
  return out;
}

/** As `lineArea`. */
function areaOf(line: Float64Array): number {
  let twice = 0;
  for (let i = 0; i < line.length; i += 2) {
    const k = i + 2 === line.length ? 0 : i + 2;
    twice += line[i]! * line[k + 1]! - line[k]! * line[i + 1]!;
  }
  return twice / 2;
}

/** How far each point of an outline is to go along its outward normal, px. */
function movesOf(
  at: Float64Array,
  normals: Float64Array,
  seen: Float32Array,
  sheet: ContrastSheet,
  wish: RefineWish,
): Float64Array {
  const { width, height } = sheet;
  const total = Math.hypot(wish.blur, wish.smoothing);
  const near = NEAR + total;
  const least = 0.3 / (Math.sqrt(2 * Math.PI) * total);
  // Heights nearby change slowly: blocks of two pixels tell them as well, in a quarter of the time.
  const coarse = { x0: sheet.x0 / 2, y0: sheet.y0 / 2, width: width >> 1, height: height >> 1 };
  const drawn = gaussian(coverOfLine(at, sheet.x0, sheet.y0, width, height), width, height, total);
  const [weight, weightSeen, weightDrawn] = weighed(drawn, seen);
  const places = half(at);
  const below = readAlong(around(weight, sheet, coarse, near), coarse, places);
  const heightSeen = readAlong(around(weightSeen, sheet, coarse, near), coarse, places);
  const heightDrawn = readAlong(around(weightDrawn, sheet, coarse, near), coarse, places);
  const seenThere = readAlong(seen, sheet, at);
  const drawnThere = readAlong(drawn, sheet, at);
  const drawnInside = readAlong(drawn, sheet, besides(at, normals, -0.5));
  const drawnOutside = readAlong(drawn, sheet, besides(at, normals, 0.5));
  const moves = new Float64Array(at.length >> 1);
  for (let i = 0; i < moves.length; i++) {
    if (wish.hidden && hiddenAt(wish.hidden, sheet, at[2 * i]!, at[2 * i + 1]!)) continue;
    const w = below[i]!;
    const hs = heightSeen[i]! / w;
    const hd = heightDrawn[i]! / w;
    if (!(w > 1e-9) || !(hs > 0)) continue;
    const steep = (drawnInside[i]! - drawnOutside[i]!) / hd;
    const off = seenThere[i]! / hs - drawnThere[i]! / hd;
    moves[i] = Math.max(-STRIDE, Math.min(STRIDE, off / Math.max(least, steep)));
  }
  const calmed = Math.max(1, Math.round((wish.smoothing * wish.smoothing) / 0.7));
  let calm: Float64Array = moves;
  for (let k = 0; k < calmed; k++) calm = smoothed(calm);
  return calm;
}

/** A line as it lies in a plane half as large. */
function half(line: Float64Array): Float64Array {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i++) out[i] = line[i]! / 2;
  return out;
}

/** Points `off` px along the normals from a line's. */
function besides(line: Float64Array, normals: Float64Array, off: number): Float64Array {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i++) out[i] = line[i]! + off * normals[i]!;
  return out;
}

const around = (data: Float32Array, { width, height }: Place, coarse: Place, near: number): Float32Array =>
  gaussian(halve({ width, height, data }).data, coarse.width, coarse.height, near / 2);

/** The fourth power of a drawing, and it times the photograph and the drawing. */
function weighed(drawn: Float32Array, seen: Float32Array): [Float32Array, Float32Array, Float32Array] {
  const n = drawn.length;
  const weight = takeFloats(n);
  const times = takeFloats(n);
  const power = takeFloats(n);
  const room = roomOf(drawn, seen, weight, times, power);
  if (room) {
    const [d, s] = [drawn.byteOffset, seen.byteOffset];
    room.kernels.weigh(d, s, n, weight.byteOffset, times.byteOffset, power.byteOffset);
  } else weighPlainly(drawn, seen, weight, times, power);
  return [weight, times, power];
}

/** The reference for the kernel. */
export function weighPlainly(
  drawn: Float32Array,
  seen: Float32Array,
  weight: Float32Array,
  times: Float32Array,
  power: Float32Array,
): void {
  for (let i = 0; i < drawn.length; i++) {
    const d = drawn[i]!;
    const w = (d * d) ** 2;
    weight[i] = w;
    times[i] = w * seen[i]!;
    power[i] = w * d;
  }
}

function smoothed(moves: Float64Array): Float64Array {
  const n = moves.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const beside = moves[i === 0 ? n - 1 : i - 1]! + moves[i + 1 === n ? 0 : i + 1]!;
    out[i] = 0.5 * moves[i]! + 0.25 * beside;
  }
  return out;
}

/** Points about 0.8 px apart along a closed line, at least 12. */
function evenly(line: Float64Array): Float64Array {
  const m = line.length >> 1;
  const length = new Float64Array(m + 1);
  for (let i = 1; i <= m; i++) {
    const k = i === m ? 0 : 2 * i;
    const dx = line[k]! - line[2 * i - 2]!;
    const dy = line[k + 1]! - line[2 * i - 1]!;
    length[i] = length[i - 1]! + Math.sqrt(dx * dx + dy * dy);
  }
  const whole = length[m]!;
  const n = Math.max(12, Math.round(whole / 0.8));
  const out = new Float64Array(2 * n);
  let k = 0;
  for (let i = 0; i < n; i++) {
    const s = (whole * i) / n;
    while (k + 1 < m && length[k + 1]! < s) k++;
    const t = (s - length[k]!) / (length[k + 1]! - length[k]! || 1);
    const next = k + 1 === m ? 0 : 2 * k + 2;
    out[2 * i] = line[2 * k]! + t * (line[next]! - line[2 * k]!);
    out[2 * i + 1] = line[2 * k + 1]! + t * (line[next + 1]! - line[2 * k + 1]!);
  }
  return out;
}

/** Outward unit normals of a line that runs clockwise on the screen. */
function normalsOf(line: Float64Array): Float64Array {
  const n = line.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    const a = i === 0 ? n - 2 : i - 2;
    const b = i + 2 === n ? 0 : i + 2;
    const dx = line[b]! - line[a]!;
    const dy = line[b + 1]! - line[a + 1]!;
    const d = Math.sqrt(dx * dx + dy * dy) || 1;
    out[i] = dy / d;
    out[i + 1] = -dx / d;
  }
  return out;
}

type Place = Pick<ContrastSheet, 'x0' | 'y0' | 'width' | 'height'>;

/** A plane read between its pixels at each point of a line; the border goes on. */
function readAlong(plane: Float32Array, sheet: Place, line: Float64Array): Float64Array {
  const { width, height, x0, y0 } = sheet;
  const out = new Float64Array(line.length >> 1);
  for (let p = 0; p < out.length; p++) {
    const u = Math.min(width - 1.001, Math.max(0, line[2 * p]! - x0 - 0.5));
    const v = Math.min(height - 1.001, Math.max(0, line[2 * p + 1]! - y0 - 0.5));
    const i = Math.floor(u);
    const j = Math.floor(v);
    const a = u - i;
    const b = v - j;
    const k = j * width + i;
    const right = i + 1 < width ? 1 : 0;
    const down = j + 1 < height ? width : 0;
    out[p] =
      (plane[k]! * (1 - a) + plane[k + right]! * a) * (1 - b) +
      (plane[k + down]! * (1 - a) + plane[k + down + right]! * a) * b;
  }
  return out;
}

function hiddenAt(hidden: Uint8Array, sheet: ContrastSheet, x: number, y: number): boolean {
  const u = Math.min(sheet.width - 1, Math.max(0, Math.floor(x - sheet.x0)));
  const v = Math.min(sheet.height - 1, Math.max(0, Math.floor(y - sheet.y0)));
  return hidden[v * sheet.width + u] === 1;
}
