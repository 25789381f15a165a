/**
 * Where a fibre truly runs and how wide it is, from the light across it. A fibre is often narrower than the blur: its
 * outline at half height tells the blur's width, not its own. The mean of many cross-sections along its line has little
 * noise, and a bar blurred by the known optics is fitted to it.
 */

import { normalCdf } from '../maths/index.ts';
import type { Point } from './finding.ts';
import type { ContrastSheet } from './linear-contrast.ts';
import { smoothWay, wayLength } from './middle-line.ts';
import { lengthOf } from './outline.ts';

export interface FibreFit {
  /** From tip to tip. */
  readonly line: Point[];
  readonly width: number;
}

export interface FibreWish {
  /** Blur of the optics, standard deviation, px. */
  readonly blur: number;
  /** Width at half height, px. */
  readonly rough: number;
  /** 1 where print or another piece hides what the fibre shows. */
  readonly hidden: Uint8Array | null;
  /** Light that a wholly black piece takes away: contrast cannot pass it. Infinite for bright pieces. */
  readonly most: number;
}

/** Steps across the line, px. */
const STEP = 0.5;
/** Widest half window across, px. */
const FARTHEST = 16;
/** Reading between pixels widens a profile by this, standard deviation, px. */
const READING = 0.4;
const FEWEST = 5;

const PHI_STEPS = 256;
const PHI_END = 6;
const PHI = Float64Array.from({ length: 2 * PHI_END * PHI_STEPS + 2 }, (_, i) =>
  normalCdf(i / PHI_STEPS - PHI_END),
);

/** Share of the normal distribution up to z, read between tabled values: off by less than 5e-7. */
function below(z: number): number {
  const at = (Math.max(-PHI_END, Math.min(PHI_END, z)) + PHI_END) * PHI_STEPS;
  const i = Math.floor(at);
  return PHI[i]! + (at - i) * (PHI[i + 1]! - PHI[i]!);
}

/** Null where too little of the fibre lies in the open. */
export function fitFibre(way: readonly Point[], sheet: ContrastSheet, wish: FibreWish): FibreFit | null {
  const half = Math.min(FARTHEST, Math.ceil(wish.rough / 2 + 2.5 * wish.blur + 2));
  let line = everyPixel(way);
  if (line.length < FEWEST) return null;
  for (let turn = 0; turn < 2; turn++) line = centred(line, sheet, half, wish.rough);
  const profile = meanProfile(line, sheet, half, wish.hidden);
  if (!profile) return null;
  const width = barWidth(profile, half, Math.hypot(wish.blur, READING), wish);
  if (width === null) return null;
  const reaching = toTip(
    toTip(line, sheet, width, wish.hidden).reverse(),
    sheet,
    width,
    wish.hidden,
  ).reverse();
  return { line: reaching, width };
}

/** Points about 1 px apart along an open line, both ends kept. */
function everyPixel(line: readonly Point[]): Point[] {
  const whole = wayLength(line);
  const n = Math.max(1, Math.round(whole));
  const out: Point[] = [];
  let k = 0;
  let before = 0;
  for (let i = 0; i <= n; i++) {
    const s = (whole * i) / n;
    for (;;) {
      const [x, y] = line[k]!;
      const [u, v] = line[Math.min(line.length - 1, k + 1)]!;
      const d = lengthOf(u - x, v - y);
      if (before + d >= s || k + 2 >= line.length) {
        const t = d > 0 ? Math.min(1, (s - before) / d) : 0;
        out.push([x + t * (u - x), y + t * (v - y)]);
        break;
      }
      before += d;
      k++;
    }
  }
  return out;
}

/** Unit normal at point i, over ± 3 points. */
function normalAt(line: readonly Point[], i: number): Point {
  const [ax, ay] = line[Math.max(0, i - 3)]!;
  const [bx, by] = line[Math.min(line.length - 1, i + 3)]!;
  const d = lengthOf(bx - ax, by - ay) || 1;
  return [-(by - ay) / d, (bx - ax) / d];
}

/** Cross-section at point i in steps of STEP from −half to half. */
function section(line: readonly Point[], i: number, sheet: ContrastSheet, half: number): Float64Array {
  const [nx, ny] = normalAt(line, i);
  const [x, y] = line[i]!;
  const n = 2 * Math.round(half / STEP) + 1;
  const out = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const t = k * STEP - half;
    out[k] = read(sheet, x + t * nx, y + t * ny);
  }
  return out;
}

/** The line moved onto the middle of the light across it, means over ± 4 px along. */
function centred(line: readonly Point[], sheet: ContrastSheet, half: number, rough: number): Point[] {
  const sections: Float64Array[] = [];
  for (let i = 0; i < line.length; i++) sections.push(section(line, i, sheet, half));
  const n = sections[0]!.length;
  const reach = rough / 2 + 1.5;
  const mean = new Float64Array(n);
  const moved: Point[] = [];
  for (let i = 0; i < line.length; i++) {
    const from = Math.max(0, i - 4);
    const to = Math.min(line.length - 1, i + 4);
    mean.fill(0);
    for (let k = from; k <= to; k++) {
      const one = sections[k]!;
      for (let j = 0; j < n; j++) mean[j]! += one[j]!;
    }
    const a = baseAt(mean, 0, 1);
    const b = baseAt(mean, n - 1, -1);
    let sum = 0;
    let moment = 0;
    for (let j = 0; j < n; j++) {
      const t = j * STEP - half;
      if (Math.abs(t) > reach) continue;
      const v = Math.max(0, mean[j]! - (a + ((b - a) * j) / (n - 1)));
      sum += v;
      moment += v * t;
    }
    const off = sum > 0 ? Math.max(-1.5, Math.min(1.5, moment / sum)) : 0;
    const [nx, ny] = normalAt(line, i);
    moved.push([line[i]![0] + off * nx, line[i]![1] + off * ny]);
  }
  return smoothWay(moved, 3);
}

/** Light beside the line: the mean of the three outermost steps from one end on. The base runs straight between both ends'. */
const baseAt = (profile: Float64Array, end: number, on: 1 | -1): number =>
  (profile[end]! + profile[end + on]! + profile[end + 2 * on]!) / 3;

function meanProfile(
  line: readonly Point[],
  sheet: ContrastSheet,
  half: number,
  hidden: Uint8Array | null,
): Float64Array | null {
  const n = 2 * Math.round(half / STEP) + 1;
  const sum = new Float64Array(n);
  let count = 0;
  const end = line.length > 4 * FEWEST ? FEWEST : 1;
  for (let i = end; i < line.length - end; i++) {
    const [nx, ny] = normalAt(line, i);
    const [x, y] = line[i]!;
    let open = true;
    for (let s = -2; s <= 2; s++) {
      const t = (s * half) / 2;
      if (
        !inSheet(sheet, x + t * nx, y + t * ny) ||
        (hidden && markAt(hidden, sheet, x + t * nx, y + t * ny))
      )
        open = false;
    }
    if (!open) continue;
    const one = section(line, i, sheet, half);
    for (let j = 0; j < n; j++) sum[j]! += one[j]!;
    count++;
  }
  if (count < FEWEST) return null;
  const a = baseAt(sum, 0, 1);
  const b = baseAt(sum, n - 1, -1);
  for (let j = 0; j < n; j++) sum[j] = (sum[j]! - (a + ((b - a) * j) / (n - 1))) / count;
  return sum;
}

/** A fibre's shadow lies on one side of it, this broad, px, and at most this part of its contrast (project choices). */
const SHADOW = 3;
const SHADOW_PART = 0.35;

/**
 * Width of the bar, with or without a shadow on one side, that blurred comes nearest to the profile: least squares,
 * heights free.
 */
function barWidth(profile: Float64Array, half: number, sigma: number, wish: FibreWish): number | null {
  const n = profile.length;
  const bar = new Float64Array(n);
  let pp = 0;
  for (let j = 0; j < n; j++) pp += profile[j]! ** 2;
  let best: number | null = null;
  let least = Number.POSITIVE_INFINITY;
  const widest = Math.min(2 * half, 1.3 * wish.rough + 2);
  for (let width = 0.4; width <= widest; width += 0.1) {
    for (let c = -0.8; c <= 0.8; c += 0.2) {
      const left = c - width / 2;
      const right = c + width / 2;
      let pm = 0;
      let mm = 0;
      for (let j = 0; j < n; j++) {
        const t = j * STEP - half;
        const m = below((t - left) / sigma) - below((t - right) / sigma);
        bar[j] = m;
        pm += profile[j]! * m;
        mm += m * m;
      }
      for (let side = -1; side <= 1; side++) {
        let ps = 0;
        let ms = 0;
        let ss = 0;
        // The shadow begins where the bar ends on this side.
        const start = side < 0 ? left - SHADOW : right;
        for (let j = 0; side !== 0 && j < n; j++) {
          const t = j * STEP - half;
          const s = below((t - start) / sigma) - below((t - start - SHADOW) / sigma);
          ps += profile[j]! * s;
          ms += bar[j]! * s;
          ss += s * s;
        }
        const det = mm * ss - ms * ms;
        let shade = side === 0 || !(det > 1e-9) ? 0 : (ps * mm - pm * ms) / det;
        let height = (pm - shade * ms) / mm;
        if (shade < 0 || shade > SHADOW_PART * height) {
          const part = shade < 0 ? 0 : SHADOW_PART;
          height = (pm + part * ps) / (mm + 2 * part * ms + part * part * ss);
          shade = part * height;
        }
        if (height > wish.most) height = wish.most;
        if (!(height > 0)) continue;
        const error =
          pp -
          2 * (height * pm + shade * ps) +
          height * height * mm +
          2 * height * shade * ms +
          shade * shade * ss;
        if (error < least) {
          least = error;
          best = width;
        }
      }
    }
  }
  return best;
}

/** The line with its last end moved to where the light along it falls to half. */
function toTip(
  line: readonly Point[],
  sheet: ContrastSheet,
  width: number,
  hidden: Uint8Array | null,
): Point[] {
  const n = line.length;
  const back = Math.min(n - 1, Math.max(6, Math.round(2 * width)));
  const [ex, ey] = line[n - 1]!;
  const [sx, sy] = line[n - 1 - Math.min(back, 8)]!;
  const d = Math.hypot(ex - sx, ey - sy) || 1;
  const ux = (ex - sx) / d;
  const uy = (ey - sy) / d;
  if (hidden && markAt(hidden, sheet, ex, ey)) return line.slice();
  const own: number[] = [];
  for (let i = n - 1 - back; i < n - Math.min(3, n >> 1); i++) {
    const [nx, ny] = normalAt(line, i);
    own.push(across(sheet, width, line[i]![0], line[i]![1], ny, -nx));
  }
  if (own.length === 0) return line.slice();
  own.sort((a, b) => a - b);
  const level = own[own.length >> 1]! / 2;
  const start = -Math.min(4, n - 2);
  let last = start;
  let before = Number.POSITIVE_INFINITY;
  for (let s = start; s <= width + 6; s += 0.5) {
    const x = ex + s * ux;
    const y = ey + s * uy;
    if (!inSheet(sheet, x, y) || (hidden && s > 0 && markAt(hidden, sheet, x, y))) break;
    const v = across(sheet, width, x, y, ux, uy);
    if (v < level) {
      if (Number.isFinite(before) && before > level) last = s - 0.5 + (0.5 * (before - level)) / (before - v);
      break;
    }
    before = v;
    last = s;
  }
  const keep = line.slice(0, n + Math.min(0, Math.ceil(start)));
  const out = keep.length >= 2 ? keep : line.slice(0, 2);
  for (let s = start + 1; s < last - 0.3; s++) out.push([ex + s * ux, ey + s * uy]);
  out.push([ex + last * ux, ey + last * uy]);
  return out;
}

/** Mean light over the inner part of a line `width` broad that runs along (dx, dy). */
const across = (sheet: ContrastSheet, width: number, x: number, y: number, dx: number, dy: number): number =>
  read(sheet, x + 0.3 * dy * width, y - 0.3 * dx * width) / 3 +
  read(sheet, x, y) / 3 +
  read(sheet, x - 0.3 * dy * width, y + 0.3 * dx * width) / 3;

const inSheet = (sheet: ContrastSheet, x: number, y: number): boolean =>
  x >= sheet.x0 && y >= sheet.y0 && x <= sheet.x0 + sheet.width && y <= sheet.y0 + sheet.height;

function markAt(marks: Uint8Array, sheet: ContrastSheet, x: number, y: number): boolean {
  const u = Math.min(sheet.width - 1, Math.max(0, Math.floor(x - sheet.x0)));
  const v = Math.min(sheet.height - 1, Math.max(0, Math.floor(y - sheet.y0)));
  return marks[v * sheet.width + u] === 1;
}

/** Contrast between pixels, bilinear, the border repeated. */
export function read(sheet: ContrastSheet, x: number, y: number): number {
  const { width, height, data } = sheet;
  const u = Math.min(width - 1.001, Math.max(0, x - sheet.x0 - 0.5));
  const v = Math.min(height - 1.001, Math.max(0, y - sheet.y0 - 0.5));
  const i = Math.floor(u);
  const j = Math.floor(v);
  const a = u - i;
  const b = v - j;
  const k = j * width + i;
  return (
    (data[k]! * (1 - a) + data[k + 1]! * a) * (1 - b) +
    (data[k + width]! * (1 - a) + data[k + width + 1]! * a) * b
  );
}
