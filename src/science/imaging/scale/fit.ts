/** Fits the map of the lattice to sightings of its lines: robust least squares with weak knowledge of cameras. */
import { type LatticeMap, mapGain, mapSlope } from './lattice.ts';

/** A place in the photograph (px) where the middle of a numbered line was seen. */
export interface Sighting {
  readonly x: number;
  readonly y: number;
  readonly runs: 'column' | 'row';
  readonly index: number;
}

export interface Fit {
  readonly map: LatticeMap;
  /** Root mean square distance of the accepted sightings from their lines, px. */
  readonly residualPx: number;
  /** Share of sightings that the fit accepts, by weight. */
  readonly accepted: number;
  /** Weight of each sighting, 0 to 1. */
  readonly weights: Float64Array;
  /** One standard uncertainty of the scale at the middle, divided by it, from the scatter of the sightings. */
  readonly scaleSpread: number;
}

/**
 * What is known of cameras before looking, as one standard deviation (project choices): the lens bends by a few per cent
 * at the corner, its axis passes near the middle, the filter is tilted by a few degrees, pixels are square.
 */
const KNOWN = { k1: 0.03, k2: 0.0008, centre: 0.01, tilt: 0.006, square: 0.002, start: 0.05 };
/** Runs show only part of what whole lines share; set so that drawn photographs scatter as the uncertainty says. */
const SHARED = 1.7;
const PARAMETERS = 12;

/** Parameters: plane (8), k1, k2, and the lens axis in units of the radius. */
function pack(map: LatticeMap, middle: readonly [number, number]): Float64Array {
  const p = new Float64Array(PARAMETERS);
  p.set(map.plane);
  p[8] = map.k1;
  p[9] = map.k2;
  p[10] = (map.centre[0] - middle[0]) / map.radius;
  p[11] = (map.centre[1] - middle[1]) / map.radius;
  return p;
}

function unpack(p: Float64Array, radius: number, middle: readonly [number, number]): LatticeMap {
  return {
    centre: [middle[0] + p[10]! * radius, middle[1] + p[11]! * radius],
    radius,
    k1: p[8]!,
    k2: p[9]!,
    plane: [p[0]!, p[1]!, p[2]!, p[3]!, p[4]!, p[5]!, p[6]!, p[7]!],
  };
}

/** Solves the symmetric positive system A·x = b in place by Cholesky's way; A is n × n, row by row. */
function factor(a: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[i * n + j]!;
      for (let k = 0; k < j; k++) s -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = i === j ? Math.sqrt(Math.max(s, 1e-300)) : s / a[j * n + j]!;
    }
  }
}

function solve(l: Float64Array, b: Float64Array, n: number): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i * n + k]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k * n + i]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}

const STEPS = [1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-5, 1e-5, 1e-4, 1e-4];

/** Px per grid unit across each sighting's line. */
function units(map: LatticeMap, seen: readonly Sighting[], out: Float64Array): void {
  for (let i = 0; i < seen.length; i++) {
    const s = seen[i]!;
    const [cx, cy, rx, ry] = mapSlope(map, s.x, s.y);
    out[i] = 1 / (s.runs === 'column' ? Math.hypot(cx, cy) : Math.hypot(rx, ry));
  }
}

/** Distances (px) of all sightings from their lines. */
function distances(map: LatticeMap, seen: readonly Sighting[], unit: Float64Array, out: Float64Array): void {
  const { k1, k2, radius } = map;
  const [x0, y0] = map.centre;
  const h = map.plane;
  for (let i = 0; i < seen.length; i++) {
    const s = seen[i]!;
    const qx = (s.x - x0) / radius;
    const qy = (s.y - y0) / radius;
    const r2 = qx * qx + qy * qy;
    const lens = 1 + r2 * (k1 + r2 * k2);
    const u = qx * lens;
    const v = qy * lens;
    const w = 1 + h[6] * u + h[7] * v;
    const at = s.runs === 'column' ? (h[0] * u + h[1] * v + h[2]) / w : (h[3] * u + h[4] * v + h[5]) / w;
    out[i] = (at - s.index) * unit[i]!;
  }
}

function medianSize(values: Float64Array): number {
  const sorted = values.map(Math.abs).sort();
  return sorted[sorted.length >> 1] ?? 0;
}

/**
 * How much more neighbouring pieces scatter together than independent ones would: print wanders, so that a run of
 * pieces errs as one. The largest ratio over runs of several lengths and over whole lines; 1 when independent.
 */
function clustering(
  seen: readonly Sighting[],
  weights: Float64Array,
  away: Float64Array,
  variance: number,
): number {
  let most = 1;
  for (const run of [4, 8, 16, 1e9]) {
    let sum = 0;
    let n = 0;
    let w = 0;
    let s = 0;
    let members = 0;
    for (let i = 0; i <= seen.length; i++) {
      const last = seen[i - 1];
      const now = seen[i];
      const broken = !now || (last && (last.runs !== now.runs || last.index !== now.index));
      if ((broken || members === run) && members > 0) {
        if (w > 1.5) {
          sum += (s * s) / w;
          n++;
        }
        w = 0;
        s = 0;
        members = 0;
      }
      if (!now) break;
      w += weights[i]!;
      s += weights[i]! * away[i]!;
      members++;
    }
    if (n > 1) most = Math.max(most, sum / n / variance);
  }
  return most;
}

/**
 * Robust fit (Tukey's biweight, cut at 4.685 standard deviations: 95 % efficiency for a normal law, a textbook constant)
 * by Gauss–Newton steps. `free` says whether tilt, second bend and lens axis may move or only similarity and k1.
 */
export function fitMap(
  start: LatticeMap,
  middle: readonly [number, number],
  seen: readonly Sighting[],
  free: boolean,
  rounds = 12,
): Fit {
  const n = PARAMETERS;
  const radius = start.radius;
  const first = pack(start, middle);
  let p = first;
  const away = new Float64Array(seen.length);
  const moved = new Float64Array(seen.length);
  const unit = new Float64Array(seen.length);
  const weights = new Float64Array(seen.length).fill(1);
  const slopes = new Float64Array(seen.length * n);
  let normal = new Float64Array(n * n);
  let cluster = 1;
  let sigma = 1;
  for (let round = 0; round < rounds; round++) {
    const map = unpack(p, radius, middle);
    units(map, seen, unit);
    distances(map, seen, unit, away);
    sigma = Math.max(0.02, medianSize(away) / 0.6745);
    let total = 0;
    let squares = 0;
    for (let i = 0; i < seen.length; i++) {
      const t = away[i]! / (4.685 * sigma);
      weights[i] = Math.abs(t) < 1 ? (1 - t * t) ** 2 : 0;
      total += weights[i]!;
      squares += weights[i]! * away[i]! ** 2;
    }
    const variance = Math.max(4e-4, squares / Math.max(1, total));
    cluster = SHARED * clustering(seen, weights, away, variance);
    for (let k = 0; k < n; k++) {
      const q = Float64Array.from(p);
      q[k]! += STEPS[k]!;
      distances(unpack(q, radius, middle), seen, unit, moved);
      for (let i = 0; i < seen.length; i++) slopes[i * n + k] = (moved[i]! - away[i]!) / STEPS[k]!;
    }
    normal = new Float64Array(n * n);
    const right = new Float64Array(n);
    const trust = 1 / (variance * cluster);
    for (let i = 0; i < seen.length; i++) {
      const w = weights[i]! * trust;
      if (w === 0) continue;
      for (let a = 0; a < n; a++) {
        const sa = slopes[i * n + a]! * w;
        right[a]! -= sa * away[i]!;
        for (let b = 0; b <= a; b++) normal[a * n + b]! += sa * slopes[i * n + b]!;
      }
    }
    addKnowledge(normal, right, p, first, free);
    for (let a = 0; a < n; a++) for (let b = 0; b < a; b++) normal[b * n + a] = normal[a * n + b]!;
    factor(normal, n);
    const step = solve(normal, right, n);
    p = p.map((v, k) => v + step[k]!);
    if (round > 2 && step.every((s, k) => Math.abs(s) < 3 * STEPS[k]!)) break;
  }
  const map = unpack(p, radius, middle);
  units(map, seen, unit);
  distances(map, seen, unit, away);
  let total = 0;
  let squares = 0;
  for (let i = 0; i < seen.length; i++) {
    total += weights[i]!;
    squares += weights[i]! * away[i]! ** 2;
  }
  return {
    map,
    residualPx: Math.sqrt(squares / Math.max(1e-9, total)),
    accepted: total / Math.max(1, seen.length),
    weights,
    scaleSpread: scaleSpread(p, normal, radius, middle),
  };
}

/** Adds what is known of cameras as if it had been measured once with the spread of `KNOWN`. */
function addKnowledge(
  normal: Float64Array,
  right: Float64Array,
  p: Float64Array,
  first: Float64Array,
  free: boolean,
): void {
  const n = PARAMETERS;
  const know = (terms: readonly (readonly [number, number])[], value: number, spread: number) => {
    const w = 1 / (spread * spread);
    for (const [a, ca] of terms) {
      right[a]! -= w * ca * value;
      for (const [b, cb] of terms) if (b <= a) normal[a * n + b]! += w * ca * cb;
    }
  };
  const size = Math.hypot(p[0]!, p[1]!);
  const tight = free ? 1 : 1e-3;
  // The start is right to a few per cent; where the sightings say nothing, this keeps the answer there.
  for (const k of [0, 1, 3, 4]) know([[k, 1]], p[k]! - first[k]!, KNOWN.start * size);
  for (const k of [2, 5]) know([[k, 1]], p[k]! - first[k]!, 0.3);
  know(
    [
      [0, 1],
      [4, -1],
    ],
    p[0]! - p[4]!,
    KNOWN.square * size * tight,
  );
  know(
    [
      [1, 1],
      [3, 1],
    ],
    p[1]! + p[3]!,
    KNOWN.square * size * tight,
  );
  know([[6, 1]], p[6]!, KNOWN.tilt * tight);
  know([[7, 1]], p[7]!, KNOWN.tilt * tight);
  know([[8, 1]], p[8]!, KNOWN.k1);
  // A lens of one bend, written the other way round, has k2 = 3·k1²; without more knowledge k2 lies about halfway there.
  const bend = 1.5 * p[8]! * p[8]!;
  know([[9, 1]], p[9]! - bend, (KNOWN.k2 + bend) * tight);
  know([[10, 1]], p[10]!, KNOWN.centre * tight);
  know([[11, 1]], p[11]!, KNOWN.centre * tight);
}

/** Spread of ln(gain at the middle) by the slopes of it and the factored normal matrix. */
function scaleSpread(
  p: Float64Array,
  factored: Float64Array,
  radius: number,
  middle: readonly [number, number],
): number {
  const at = (q: Float64Array) => Math.log(mapGain(unpack(q, radius, middle), middle[0], middle[1]));
  const base = at(p);
  const slope = new Float64Array(PARAMETERS);
  for (let k = 0; k < PARAMETERS; k++) {
    const q = Float64Array.from(p);
    q[k]! += STEPS[k]!;
    slope[k] = (at(q) - base) / STEPS[k]!;
  }
  const x = solve(factored, slope, PARAMETERS);
  let v = 0;
  for (let k = 0; k < PARAMETERS; k++) v += slope[k]! * x[k]!;
  return Math.sqrt(Math.max(0, v));
}
