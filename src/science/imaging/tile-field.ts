/** Slowly changing values known at the middles of square cells, read anywhere between them. */

import { roomOf } from './kernels/room.ts';

export interface TileField {
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  /** Where the first value lies, px in both directions: half a cell where each stands for its own cell. */
  readonly origin: number;
  readonly values: Float32Array;
}

/** Value at pixel (x, y), bilinear between cell middles, level beyond the outermost. */
export function fieldAt(field: TileField, x: number, y: number): number {
  fieldsAt([field], x, y, ONE);
  return ONE[0]!;
}
const ONE = new Float64Array(1);

/** As `fieldAt`, of several fields with the same cells, into `out`: the place among the cells is told once. */
export function fieldsAt(fields: readonly TileField[], x: number, y: number, out: Float64Array): void {
  const { cell, columns, rows, origin } = fields[0]!;
  const u = Math.min(columns - 1, Math.max(0, (x + 0.5 - origin) / cell));
  const v = Math.min(rows - 1, Math.max(0, (y + 0.5 - origin) / cell));
  const i = Math.min(Math.max(columns - 2, 0), Math.floor(u));
  const j = Math.min(Math.max(rows - 2, 0), Math.floor(v));
  const a = u - i;
  const b = v - j;
  const at = j * columns + i;
  const right = i + 1 < columns ? 1 : 0;
  const below = j + 1 < rows ? columns : 0;
  for (let k = 0; k < fields.length; k++) {
    const { values } = fields[k]!;
    const top = values[at]! * (1 - a) + values[at + right]! * a;
    const low = values[at + below]! * (1 - a) + values[at + below + right]! * a;
    out[k] = top * (1 - b) + low * b;
  }
}

/** Shorter rows are not worth a kernel. */
const RAMP = 16;

/**
 * Values along one row of pixels (x0, x0 + step, …), written into `out`: the inner loop of everything that is
 * measured against the membrane, so it walks cell by cell and adds a constant increment.
 */
export function fieldRow(
  field: TileField,
  y: number,
  x0: number,
  step: number,
  n: number,
  out: Float32Array,
): void {
  const { cell, columns, rows, origin, values } = field;
  const v = Math.min(rows - 1, Math.max(0, (y + 0.5 - origin) / cell));
  const j = Math.min(Math.max(rows - 2, 0), Math.floor(v));
  const b = v - j;
  const r0 = j * columns;
  const r1 = Math.min(rows - 1, j + 1) * columns;
  const room = n > RAMP ? roomOf(out) : null;
  let k = 0;
  while (k < n) {
    const u = (x0 + k * step + 0.5 - origin) / cell;
    if (u <= 0 || columns === 1) {
      out[k++] = values[r0]! * (1 - b) + values[r1]! * b;
      continue;
    }
    if (u >= columns - 1) {
      const last = values[r0 + columns - 1]! * (1 - b) + values[r1 + columns - 1]! * b;
      while (k < n) out[k++] = last;
      return;
    }
    const i = Math.floor(u);
    const left = values[r0 + i]! * (1 - b) + values[r1 + i]! * b;
    const slope = values[r0 + i + 1]! * (1 - b) + values[r1 + i + 1]! * b - left;
    const end = Math.min(n, Math.ceil(((i + 1) * cell + origin - 0.5 - x0) / step));
    let value = left + slope * (u - i);
    const grow = (slope * step) / cell;
    if (end <= k) {
      out[k++] = value;
      continue;
    }
    if (room) {
      room.kernels.ramp(out.byteOffset + 4 * k, end - k, value, grow);
      k = end;
      continue;
    }
    for (; k < end; k++) {
      out[k] = value;
      value += grow;
    }
  }
}

/** The same field with one more value all around, the slope at the rim going on: light does not level off at the frame. */
export function extended(field: TileField): TileField {
  const { cell, columns, rows, origin, values } = field;
  const w = columns + 2;
  const out = new Float32Array(w * (rows + 2));
  const on = (i: number, j: number) => values[j * columns + i]!;
  const beyond = (n: number, k: number): [number, number, number] =>
    n === 1 ? [0, 0, 0] : k < 0 ? [0, 1, 1] : k >= n ? [n - 1, n - 2, 1] : [k, k, 0];
  for (let j = -1; j <= rows; j++) {
    for (let i = -1; i <= columns; i++) {
      const [i0, i1, a] = beyond(columns, i);
      const [j0, j1, b] = beyond(rows, j);
      const own = on(i0, j0);
      const grown = own + a * (own - on(i1, j0)) + b * (own - on(i0, j1));
      out[(j + 1) * w + i + 1] = Math.max(0.5 * own, grown);
    }
  }
  return { cell, columns: w, rows: rows + 2, origin: origin - cell, values: out };
}
