/**
 * Thin lines, darker or brighter than both sides: second difference across, summed along. Summing along the line is
 * what lets a fibre be seen whose single pixels drown in the grain.
 */
import { roomOf, takeBytes, takeFloats } from './kernels/room.ts';
import type { Plane } from './pyramid.ts';
import { spread } from './robust.ts';

/** Steps along the four directions, and across each. */
const ALONG = [
  [0, 1],
  [1, 1],
  [1, 0],
  [1, -1],
] as const;
/** Pixels summed to either side along the line. */
const HALF = 4;

/** 2 where a line is sure, 1 where it may be, 0 elsewhere; null when nowhere sure. */
export function ridges(from: Plane, seed: number, grow: number): Uint8Array | null {
  const { width: w, height: h, data: s } = from;
  if (w < 4 * HALF || h < 4 * HALF) return null;
  const out = takeBytes(w * h).fill(0);
  const bend = takeFloats(w * h);
  const sum = takeFloats(w * h);
  const room = roomOf(s, out, bend, sum);
  const some = takeFloats(Math.ceil(w / 7) * Math.ceil(h / 7));
  let any = false;
  for (const [dx, dy] of ALONG) {
    const across = dx === 0 ? 1 : dy === 0 ? w : dy === 1 ? w - 1 : w + 1;
    const step = dy * w + dx;
    const y0 = dy === 0 ? 1 : HALF + 2;
    const y1 = dy === 0 ? h - 1 : h - HALF - 1;
    const x0 = dx === 0 ? 1 : HALF + 2;
    const x1 = dx === 0 ? w - 1 : w - HALF - 1;
    if (room) {
      room.kernels.bend(s.byteOffset, w, h, across, bend.byteOffset);
      room.kernels.sumAlong(bend.byteOffset, w, h, step, HALF, x0, y0, x1, y1, sum.byteOffset);
    } else sumPlainly(from, across, [dx, dy], [x0, y0, x1, y1], bend, sum);
    let n = 0;
    for (let y = y0 + 3; y < y1; y += 7) for (let x = x0 + 3; x < x1; x += 7) some[n++] = sum[y * w + x]!;
    if (n < 30) continue;
    const noise = Math.max(1e-6, spread(some, n));
    const weak = grow * noise;
    const strong = seed * noise;
    if (room) {
      if (room.kernels.markBeyond(sum.byteOffset, sum.length, weak, strong, out.byteOffset)) any = true;
      continue;
    }
    for (let i = 0; i < sum.length; i++) {
      const z = Math.abs(sum[i]!);
      if (z < weak) continue;
      if (z >= strong) {
        out[i] = 2;
        any = true;
      } else if (out[i] === 0) out[i] = 1;
    }
  }
  return any ? out : null;
}

/** The reference for the kernels: second differences across, summed along one direction; 0 outside the rectangle. */
export function sumPlainly(
  from: Plane,
  across: number,
  [dx, dy]: readonly [number, number],
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  bend: Float32Array,
  sum: Float32Array,
): void {
  const { width: w, height: h, data: s } = from;
  for (let y = 1; y < h - 1; y++) {
    const o = y * w;
    for (let x = 1; x < w - 1; x++) {
      const i = o + x;
      bend[i] = s[i - across]! + s[i + across]! - 2 * s[i]!;
    }
  }
  const step = dy * w + dx;
  sum.fill(0);
  // Rows in the direction of the line, so that the sum before is there.
  for (let k = 0; k < y1 - y0; k++) {
    const y = dy < 0 ? y1 - 1 - k : y0 + k;
    for (let x = x0; x < x1; x++) {
      const i = y * w + x;
      const before = i - step;
      // A running sum where the pixel before along the line has one, a fresh one at the rim.
      if (y - dy >= y0 && y - dy < y1 && x - dx >= x0 && x - dx < x1) {
        sum[i] = sum[before]! + bend[i + HALF * step]! - bend[before - HALF * step]!;
      } else {
        let t = 0;
        for (let k = -HALF; k <= HALF; k++) t += bend[i + k * step]!;
        sum[i] = t;
      }
    }
  }
}
