/**
 * The membrane's own brightness at every place, channel by channel: what a pixel would show were there no particle.
 * Medians of small cells (print and dish left out), each then replaced by the value of a plane fitted robustly to its
 * neighbours, so that a cell covered by a film follows the membrane around it and steep light at the rim is not flattened.
 */
import { medianInPlace } from './robust.ts';
import type { Survey } from './survey.ts';
import { extended, type TileField } from './tile-field.ts';

/** Side of a cell in px of the photograph. */
export const BACKGROUND_CELL = 64;
const REACH = 3;

/** What a reduced pixel may be used for. */
export const MEMBRANE = 0;
export const PRINT = 1;
export const OUTSIDE = 2;

export interface CellMedians {
  readonly columns: number;
  readonly rows: number;
  readonly channels: number;
  /** Channel by channel within a cell; 0 where too little membrane is seen. */
  readonly values: Float32Array;
}

/** Median of each channel in each cell over the reduced pixels that are membrane; 0 where fewer than a fifth are. */
export function cellMedians(survey: Survey, use: Uint8Array | null): CellMedians {
  const { reduced, factor, channels, width, height } = survey;
  const side = BACKGROUND_CELL / factor;
  const columns = Math.max(1, Math.ceil(width / BACKGROUND_CELL));
  const rows = Math.max(1, Math.ceil(height / BACKGROUND_CELL));
  const values = new Float32Array(columns * rows * channels);
  const held = new Float32Array(side * side);
  // A quarter of a thousand values tells a median well enough.
  const stride = side >= 32 ? 2 : 1;
  for (let j = 0; j < rows; j++) {
    const y0 = Math.min(j * side, reduced.height - 1);
    const y1 = Math.min(y0 + side, reduced.height);
    for (let i = 0; i < columns; i++) {
      const x0 = Math.min(i * side, reduced.width - 1);
      const x1 = Math.min(x0 + side, reduced.width);
      for (let c = 0; c < channels; c++) {
        let n = 0;
        for (let y = y0; y < y1; y += stride) {
          const row = y * reduced.width;
          for (let x = x0; x < x1; x += stride) {
            if (use === null || use[row + x] === MEMBRANE)
              held[n++] = reduced.data[(row + x) * channels + c]!;
          }
        }
        const enough = n * 5 * stride * stride >= (y1 - y0) * (x1 - x0) && n > 0;
        values[(j * columns + i) * channels + c] = enough ? medianInPlace(held, n) / reduced.full : 0;
      }
    }
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

/** Robust plane (Tukey weights) around each cell; null when no cell of the photograph shows membrane. */
export function smoothMedians(cells: CellMedians): TileField[] | null {
  const { columns, rows, channels, values } = cells;
  const most = (2 * REACH + 1) ** 2;
  const u = new Float64Array(most),
    v = new Float64Array(most),
    z = new Float64Array(most);
  const weight = new Float64Array(most),
    w = new Float64Array(most),
    fitted = new Float64Array(most),
    off = new Float64Array(most);
  const out: TileField[] = [];
  for (let c = 0; c < channels; c++) {
    const field = new Float32Array(columns * rows);
    const seen: number[] = [];
    for (let k = c; k < values.length; k += channels) if (values[k]! > 0) seen.push(values[k]!);
    if (seen.length === 0) return null;
    const typical = medianInPlace(Float64Array.from(seen));
    for (let j = 0; j < rows; j++) {
      for (let i = 0; i < columns; i++) {
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
          field[j * columns + i] = typical;
          continue;
        }
        off.set(z);
        const middle = medianInPlace(off, n);
        let at: number | null = null;
        for (let round = 0; round < 4; round++) {
          at = planeAtMiddle(n, u, v, z, w, fitted);
          if (at === null) break;
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
        field[j * columns + i] = Math.max(1e-4, Math.min(high + room, Math.max(low - room, at ?? middle)));
      }
    }
    out.push(extended({ cell: BACKGROUND_CELL, columns, rows, origin: BACKGROUND_CELL / 2, values: field }));
  }
  return out;
}
