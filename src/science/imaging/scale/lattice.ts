/**
 * The printed lattice of a gridded membrane as it lies in one photograph: where its lines are, what a pixel is worth
 * at each place, and what the print looks like. Positions are pixels of the upright full-size photograph; pixel
 * (i, j) has its middle at (i + 0.5, j + 0.5), so the picture spans [0, width] × [0, height].
 */
import type { MicrometresPerPixel, Millimetres } from '../../../units/index.ts';
import type { GridSquare, Point } from '../finding.ts';

/**
 * Photo px → grid, in two stages. The lens: q = (p − centre) / radius, u = q·(1 + k1·|q|² + k2·|q|⁴).
 * The plane: grid = (h0·u + h1·v + h2, h3·u + h4·v + h5) / (1 + h6·u + h7·v). A grid unit is one printed pitch.
 */
export interface LatticeMap {
  readonly centre: Point;
  /** Normalising radius in px: half the picture's diagonal. */
  readonly radius: number;
  readonly k1: number;
  readonly k2: number;
  readonly plane: readonly [number, number, number, number, number, number, number, number];
}

/** How the print looks on average; `contrast` is (line − membrane) / white in each channel, negative for dark ink. */
export interface Print {
  /** Full width of a printed line at half its depth, blur included, px near the picture's middle. */
  readonly widthPx: number;
  /** In luminance; negative: the line is darker than the membrane. */
  readonly contrast: number;
  /** In R, G, B (one value repeated for a grey picture). */
  readonly contrastRgb: readonly [number, number, number];
  /** Mean signed depth across a line, as (value − membrane) / white, at offsets (i − (n − 1) / 2) · `profileStep` px. */
  readonly profile: readonly number[];
  readonly profileStep: number;
}

/** One printed line: `column` lines are those of constant column number (roughly upright in the photograph). */
export interface PrintedLine {
  readonly runs: 'column' | 'row';
  readonly index: number;
  /** Share of the line's length inside the photograph where ink was seen; the rest is missing, covered or outside. */
  readonly seen: number;
  readonly widthPx: number;
  readonly contrast: number;
  /** Median distance of the ink from the lattice's own line, px, towards higher column or row. */
  readonly offsetPx: number;
}

export interface Lattice {
  readonly pitch: Millimetres;
  /** At the middle of the picture; elsewhere use `umPerPxAt` or, better, `toUm`. */
  readonly umPerPx: MicrometresPerPixel;
  /** One standard uncertainty divided by the value, for the scale at the middle. Excludes the maker's pitch tolerance. */
  readonly relativeUncertainty: number;
  /** Of the rows against the picture's x axis, from −45 to 45; positive: the rows fall towards the right. */
  readonly rotationDeg: number;
  readonly map: LatticeMap;
  readonly print: Print;
  readonly lines: readonly PrintedLine[];
  /** Every square of which a part lies in the picture. Square (c, r) spans columns c…c+1 and rows r…r+1; none is negative. */
  readonly squares: readonly GridSquare[];
  /** Root mean square distance of traced ink from the lattice, px. */
  readonly residualPx: number;
  /** Photo px → (column, row), real-valued; whole numbers are line middles. Lens distortion and tilt are taken out. */
  toGrid(point: Point): Point;
  /** (column, row) → photo px. */
  toPhoto(grid: Point): Point;
  /** Photo px → µm on the filter along the print's own axes: `toGrid` times the pitch. True lengths anywhere. */
  toUm(point: Point): Point;
  /** √|area of one px² on the filter| at this place. */
  umPerPxAt(point: Point): number;
}

/** Photo px → (column, row). */
export function mapToGrid(map: LatticeMap, x: number, y: number): [number, number] {
  const qx = (x - map.centre[0]) / map.radius;
  const qy = (y - map.centre[1]) / map.radius;
  const r2 = qx * qx + qy * qy;
  const lens = 1 + r2 * (map.k1 + r2 * map.k2);
  const u = qx * lens;
  const v = qy * lens;
  const h = map.plane;
  const w = 1 + h[6] * u + h[7] * v;
  return [(h[0] * u + h[1] * v + h[2]) / w, (h[3] * u + h[4] * v + h[5]) / w];
}

/** (column, row) → photo px; the lens is inverted by Newton's method. */
export function mapToPhoto(map: LatticeMap, column: number, row: number): [number, number] {
  const h = map.plane;
  // (h0 − c·h6)·u + (h1 − c·h7)·v = c − h2, and the same for the row.
  const a = h[0] - column * h[6];
  const b = h[1] - column * h[7];
  const c = h[3] - row * h[6];
  const d = h[4] - row * h[7];
  const det = a * d - b * c;
  const e = column - h[2];
  const f = row - h[5];
  const u = (e * d - b * f) / det;
  const v = (a * f - e * c) / det;
  const ru = Math.hypot(u, v);
  let r = ru;
  for (let i = 0; i < 12; i++) {
    const r2 = r * r;
    const value = r * (1 + r2 * (map.k1 + r2 * map.k2)) - ru;
    const slope = 1 + r2 * (3 * map.k1 + 5 * map.k2 * r2);
    if (!(slope > 0.05)) break;
    const next = r - value / slope;
    if (Math.abs(next - r) < 1e-12) {
      r = next;
      break;
    }
    r = next;
  }
  const s = ru > 0 ? (r / ru) * map.radius : map.radius;
  return [map.centre[0] + u * s, map.centre[1] + v * s];
}

/** d(column, row) / d(x, y) as [∂c/∂x, ∂c/∂y, ∂r/∂x, ∂r/∂y], per px. */
export function mapSlope(map: LatticeMap, x: number, y: number): [number, number, number, number] {
  const qx = (x - map.centre[0]) / map.radius;
  const qy = (y - map.centre[1]) / map.radius;
  const r2 = qx * qx + qy * qy;
  const lens = 1 + r2 * (map.k1 + r2 * map.k2);
  const dl = 2 * map.k1 + 4 * map.k2 * r2;
  const uu = lens + qx * qx * dl;
  const uv = qx * qy * dl;
  const vv = lens + qy * qy * dl;
  const h = map.plane;
  const u = qx * lens;
  const v = qy * lens;
  const w = 1 + h[6] * u + h[7] * v;
  const column = (h[0] * u + h[1] * v + h[2]) / w;
  const row = (h[3] * u + h[4] * v + h[5]) / w;
  const cu = (h[0] - column * h[6]) / w;
  const cv = (h[1] - column * h[7]) / w;
  const ru = (h[3] - row * h[6]) / w;
  const rv = (h[4] - row * h[7]) / w;
  const s = 1 / map.radius;
  return [(cu * uu + cv * uv) * s, (cu * uv + cv * vv) * s, (ru * uu + rv * uv) * s, (ru * uv + rv * vv) * s];
}

/** Pitches per px at this place: √|det| of the map's slope. */
export function mapGain(map: LatticeMap, x: number, y: number): number {
  const [a, b, c, d] = mapSlope(map, x, y);
  return Math.sqrt(Math.abs(a * d - b * c));
}

/** √|area of one px² on the filter| at this place, µm: what `umPerPxAt` of a lattice tells. */
export const mapUmPerPx = (map: LatticeMap, pitch: Millimetres, x: number, y: number): number =>
  mapGain(map, x, y) * (pitch * 1000);
