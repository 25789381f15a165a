/** Halving pyramids of plain float planes, row by row; the finest level is the photograph itself. */

import { takeFloats, withKernels } from './kernels/room.ts';

export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

export const plane = (width: number, height: number): Plane => ({
  width,
  height,
  data: new Float32Array(width * height),
});

/** Means of 2 × 2 blocks; an odd last row or column is left out. */
export function halve(from: Plane): Plane {
  const w = from.width >> 1;
  const h = from.height >> 1;
  const out = { width: w, height: h, data: takeFloats(w * h) };
  const done = withKernels(4 * (from.data.length + w * h), (room) => {
    const to = room.into(out.data);
    room.kernels.halve(room.at(from.data), from.width, from.height, to);
    return room.hand(to, out.data);
  });
  if (!done) halvePlainly(from, out);
  return out;
}

/** The reference for the kernel. */
export function halvePlainly(from: Plane, into: Plane): void {
  const { width: w, height: h, data: out } = into;
  const a = from.data;
  for (let y = 0; y < h; y++) {
    let i = 2 * y * from.width;
    let j = i + from.width;
    const o = y * w;
    for (let x = 0; x < w; x++, i += 2, j += 2) out[o + x] = 0.25 * (a[i]! + a[i + 1]! + a[j]! + a[j + 1]!);
  }
}

/** Binomial smoothing (1 2 1)² / 16, the border repeated. */
export function smooth(from: Plane): Plane {
  const { width: w, height: h } = from;
  const out = { width: w, height: h, data: takeFloats(w * h) };
  const done = withKernels(8 * w * h + 4 * w, (room) => {
    const to = room.into(out.data);
    room.kernels.smooth(room.at(from.data), w, h, to, room.space(4 * (w + 8)));
    return room.hand(to, out.data);
  });
  if (!done) smoothPlainly(from, out);
  return out;
}

/** The reference for the kernel. */
export function smoothPlainly(from: Plane, into: Plane): void {
  const { width: w, height: h, data: a } = from;
  const out = into.data;
  const line = new Float32Array(w + 2);
  for (let y = 0; y < h; y++) {
    const up = (y > 0 ? y - 1 : y) * w;
    const mid = y * w;
    const down = (y < h - 1 ? y + 1 : y) * w;
    for (let x = 0; x < w; x++) line[x + 1] = a[up + x]! + 2 * a[mid + x]! + a[down + x]!;
    line[0] = line[1]!;
    line[w + 1] = line[w]!;
    for (let x = 0; x < w; x++) out[mid + x] = 0.0625 * (line[x]! + 2 * line[x + 1]! + line[x + 2]!);
  }
}

/** Three running means of ± r px: near a normal blur of variance r² + r, in time that does not grow with r. */
export function blur(from: Plane, r: number): Plane {
  const { width: w, height: h } = from;
  const data = from.data.slice();
  const line = new Float32Array(w + 2 * r + 1);
  const part = 1 / (2 * r + 1);
  const across = (o: number) => {
    line.fill(data[o]!, 0, r);
    for (let x = 0; x < w; x++) line[r + x] = data[o + x]!;
    line.fill(data[o + w - 1]!, r + w);
    let sum = 0;
    for (let i = 0; i <= 2 * r; i++) sum += line[i]!;
    for (let x = 0; x < w; x++) {
      data[o + x] = sum * part;
      sum += line[x + 2 * r + 1]! - line[x]!;
    }
  };
  const before = new Float32Array(w * h);
  const sums = new Float64Array(w);
  const down = () => {
    before.set(data);
    const row = (y: number) => Math.min(h - 1, Math.max(0, y)) * w;
    sums.fill(0);
    for (let y = -r; y <= r; y++) {
      const at = row(y);
      for (let x = 0; x < w; x++) sums[x] = sums[x]! + before[at + x]!;
    }
    for (let y = 0; y < h; y++) {
      const o = y * w;
      const next = row(y + r + 1);
      const last = row(y - r);
      for (let x = 0; x < w; x++) {
        data[o + x] = sums[x]! * part;
        sums[x] = sums[x]! + before[next + x]! - before[last + x]!;
      }
    }
  };
  for (let turn = 0; turn < 3; turn++) {
    for (let y = 0; y < h; y++) across(y * w);
    down();
  }
  return { width: w, height: h, data };
}
