/**
 * The membrane's own brightness at every place, channel by channel: what a pixel would show were there no particle.
 * Medians of small cells (print and dish left out), each then replaced by the value of a plane fitted robustly to its
 * neighbours, so that a cell covered by a film follows the membrane around it and steep light at the rim is not flattened.
 */
import { MEMBRANE, type PrintZone, reducedUse } from './reduced-use.ts';
import { medianInPlace } from './robust.ts';
import type { FilterEdge } from './scale/edge.ts';
import type { Survey } from './survey.ts';
import { extended, type TileField } from './tile-field.ts';

/** Side of a cell in px of the photograph. */
export const BACKGROUND_CELL = 64;
const REACH = 3;

export interface CellMedians {
  readonly columns: number;
  readonly rows: number;
  readonly channels: number;
  /** Channel by channel within a cell; 0 where too little membrane is seen. */
  readonly values: Float32Array;
}

/** Rows of cells that a photograph of this height has. */
export const cellRows = (height: number): number => Math.max(1, Math.ceil(height / BACKGROUND_CELL));

/**
 * Median of each channel in each cell of the cell rows [from, to), over the reduced pixels that are membrane; 0 where
 * fewer than a fifth are.
 */
export function cellMedians(
  survey: Survey,
  zone: PrintZone | null,
  edge: FilterEdge | null,
  from = 0,
  to = cellRows(survey.height),
): CellMedians {
  const { reduced, factor, channels, width } = survey;
  const side = BACKGROUND_CELL / factor;
  const columns = Math.max(1, Math.ceil(width / BACKGROUND_CELL));
  const values = new Float32Array(columns * (to - from) * channels);
  const rowOf = (j: number) => Math.min(j * side, reduced.height - 1);
  const top = rowOf(from);
  const use = reducedUse(survey, zone, edge, top, Math.min(rowOf(to - 1) + side, reduced.height));
  const held = Array.from({ length: channels }, () => new Float32Array(side * side));
  // A quarter of a thousand values tells a median well enough.
  const stride = side >= 32 ? 2 : 1;
  for (let j = from; j < to; j++) {
    const y0 = rowOf(j);
    const y1 = Math.min(y0 + side, reduced.height);
    for (let i = 0; i < columns; i++) {
      const x0 = Math.min(i * side, reduced.width - 1);
      const x1 = Math.min(x0 + side, reduced.width);
      let n = 0;
      for (let y = y0; y < y1; y += stride) {
        const row = y * reduced.width;
        const used = (y - top) * reduced.width;
        for (let x = x0; x < x1; x += stride) {
          if (use !== null && use[used + x] !== MEMBRANE) continue;
          const at = (row + x) * channels;
          for (let c = 0; c < channels; c++) held[c]![n] = reduced.data[at + c]!;
          n++;
        }
      }
      const enough = n * 5 * stride * stride >= (y1 - y0) * (x1 - x0) && n > 0;
      const cell = ((j - from) * columns + i) * channels;
      for (let c = 0; c < channels; c++)
        values[cell + c] = enough ? medianInPlace(held[c]!, n) / reduced.full : 0;
    }
  }
  return { columns, rows: to - from, channels, values };
}

/** Cell rows told band by band, put together. */
export function joinedCells(bands: readonly CellMedians[]): CellMedians {
  const { columns, channels } = bands[0]!;
  const rows = bands.reduce((sum, band) => sum + band.rows, 0);
  const values = new Float32Array(columns * rows * channels);
  let at = 0;
  for (const band of bands) {
    values.set(band.values, at);
    at += band.values.length;
  }
  return { columns, rows, channels, values };
}

/** Nearer cells count more, so that curved light is followed. */
const near = (u: number, v: number): number => Math.exp(-(u * u + v * v) / 5);
const SIDE = 2 * REACH + 1;
const NEAR = Float64Array.from({ length: SIDE * SIDE }, (_, k) =>
  near((k % SIDE) - REACH, Math.floor(k / SIDE) - REACH),
);

/** Weighted least squares of a plane through (u, v, z); returns its value at u = v = 0, null when undetermined. */
function planeAtMiddle(
  n: number,
  u: Float64Array,
  v: Float64Array,
  z: Float64Array,
  w: Float64Array,
  fitted: Float64Array,
): number | null {
  let s = 0,
    su = 0,
    sv = 0,
    suu = 0,
    suv = 0,
    svv = 0,
    sz = 0,
    suz = 0,
    svz = 0;
  for (let i = 0; i < n; i++) {
    const a = w[i]!,
      x = u[i]!,
      y = v[i]!,
      q = z[i]!;
    s += a;
    su += a * x;
    sv += a * y;
    suu += a * x * x;
    suv += a * x * y;
    svv += a * y * y;
    sz += a * q;
    suz += a * x * q;
    svz += a * y * q;
  }
  if (s <= 0) return null;
  const mx = su / s,
    my = sv / s,
    mz = sz / s;
  const cxx = suu - s * mx * mx + 1e-3 * s,
    cyy = svv - s * my * my + 1e-3 * s,
    cxy = suv - s * mx * my;
  const cxz = suz - s * mx * mz,
    cyz = svz - s * my * mz;
  const det = cxx * cyy - cxy * cxy;
  const bx = (cxz * cyy - cyz * cxy) / det;
  const by = (cyz * cxx - cxz * cxy) / det;
  for (let i = 0; i < n; i++) fitted[i] = mz + bx * (u[i]! - mx) + by * (v[i]! - my);
  return mz - bx * mx - by * my;
}

/**
 * Robust plane (Tukey weights) around each cell of the cell rows [from, to), for each channel; null when no cell of the
 * photograph shows membrane.
 */
export function smoothMedians(cells: CellMedians, from = 0, to = cells.rows): Float32Array[] | null {
  const { columns, rows, channels, values } = cells;
  const most = (2 * REACH + 1) ** 2;
  const u = new Float64Array(most),
    v = new Float64Array(most),
    z = new Float64Array(most);
  const weight = new Float64Array(most),
    w = new Float64Array(most),
    fitted = new Float64Array(most),
    off = new Float64Array(most);
  const out: Float32Array[] = [];
  for (let c = 0; c < channels; c++) {
    const field = new Float32Array(columns * (to - from));
    const seen: number[] = [];
    for (let k = c; k < values.length; k += channels) if (values[k]! > 0) seen.push(values[k]!);
    if (seen.length === 0) return null;
    const typical = medianInPlace(Float64Array.from(seen));
    for (let j = from; j < to; j++) {
      for (let i = 0; i < columns; i++) {
        const at = (j - from) * columns + i;
        let n = 0;
        let reach = REACH;
        while (n < 6 && reach < 64) {
          n = 0;
          const stride = Math.max(1, Math.floor(reach / REACH));
          for (let b = -reach; b <= reach; b += stride) {
            for (let a = -reach; a <= reach; a += stride) {
              const x = i + a,
                y = j + b;
              if (x < 0 || y < 0 || x >= columns || y >= rows) continue;
              const value = values[(y * columns + x) * channels + c]!;
              if (value <= 0 || n >= most) continue;
              u[n] = a;
              v[n] = b;
              z[n] = value;
              weight[n] = reach === REACH ? NEAR[(b + REACH) * SIDE + a + REACH]! : near(a, b);
              w[n] = weight[n]!;
              n++;
            }
          }
          reach *= 2;
        }
        if (n < 6) {
          field[at] = typical;
          continue;
        }
        off.set(z);
        const middle = medianInPlace(off, n);
        let plane: number | null = null;
        for (let round = 0; round < 4; round++) {
          plane = planeAtMiddle(n, u, v, z, w, fitted);
          if (plane === null) break;
          for (let k = 0; k < n; k++) off[k] = Math.abs(z[k]! - fitted[k]!);
          const scale = Math.max(1e-4 * typical, 1.4826 * medianInPlace(off, n));
          for (let k = 0; k < n; k++) {
            const t = (z[k]! - fitted[k]!) / (4.7 * scale);
            const rest = 1 - t * t;
            w[k] = rest > 0 ? weight[k]! * rest * rest : 0;
          }
        }
        // A plane through few cells may run away at a corner: it stays within the range of what was seen.
        let low = middle,
          high = middle;
        for (let k = 0; k < n; k++) {
          if (w[k]! > 0) {
            low = Math.min(low, z[k]!);
            high = Math.max(high, z[k]!);
          }
        }
        const room = 0.5 * (high - low);
        field[at] = Math.max(1e-4, Math.min(high + room, Math.max(low - room, plane ?? middle)));
      }
    }
    out.push(field);
  }
  return out;
}

/** The membrane's brightness, channel by channel, from what was smoothed band by band of `cells`. */
export function backgroundFrom(cells: CellMedians, bands: readonly (readonly Float32Array[])[]): TileField[] {
  const { columns, rows, channels } = cells;
  return Array.from({ length: channels }, (_, c) => {
    const values = new Float32Array(columns * rows);
    let at = 0;
    for (const band of bands) {
      values.set(band[c]!, at);
      at += band[c]!.length;
    }
    return extended({ cell: BACKGROUND_CELL, columns, rows, origin: BACKGROUND_CELL / 2, values });
  });
}
