/** Distance of each pixel of a shape to the nearest pixel outside it, exact. Beyond the window counts as outside. */
import { roomOf, takeFloats } from './kernels/room.ts';

/** Room for one row: kept from one shape to the next. */
let most = 0;
let f = new Float64Array(0);
let v = new Int32Array(0);
let z = new Float64Array(0);

/** Distances by the kernel; by the plain function where it cannot be had. */
export function distanceInside(mask: Uint8Array, width: number, height: number): Float32Array {
  const out = takeFloats(width * height);
  const need = 20 * (width + 4);
  const room = roomOf(mask, out);
  if (!room?.fits(need)) return distancePlainly(mask, width, height, out);
  const mark = room.mark();
  room.kernels.distance(mask.byteOffset, width, height, out.byteOffset, room.space(need));
  room.release(mark);
  return out;
}

/**
 * The reference for the kernel. Squared distances: down the columns by counting, along the rows by lower envelopes of
 * parabolas, one run of the shape after another, as what lies beyond a run's ends is outside.
 * Source of the method: Felzenszwalb and Huttenlocher, Theory of Computing 8 (2012) 415–428.
 */
export function distancePlainly(
  mask: Uint8Array,
  width: number,
  height: number,
  out: Float32Array,
): Float32Array {
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) out[i] = mask[i] ? (y === 0 ? 1 : out[i - width]! + 1) : 0;
  }
  for (let y = height - 1, i = width * height - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--, i--) {
      const up = out[i]!;
      if (up <= 1) continue;
      const below = y === height - 1 ? 1 : out[i + width]! + 1;
      if (below < up) out[i] = below;
    }
  }
  if (width + 2 > most) {
    most = width + 2;
    f = new Float64Array(most);
    v = new Int32Array(most);
    z = new Float64Array(most + 1);
  }
  for (let y = 0; y < height; y++) {
    const o = y * width;
    for (let x = 0; x < width; x++) {
      if (!mask[o + x]) continue;
      const start = x;
      while (x < width && mask[o + x]) x++;
      if (x - start === 1) out[o + start] = 1;
      else alongRun(out, o + start, x - start);
    }
  }
  return out;
}

/** One run of n pixels: heights of columns in, distances out. */
function alongRun(out: Float32Array, from: number, n: number): void {
  f[0] = 0;
  f[n + 1] = 0;
  for (let i = 0; i < n; i++) f[i + 1] = out[from + i]! ** 2;
  let k = 0;
  v[0] = 0;
  z[0] = Number.NEGATIVE_INFINITY;
  z[1] = Number.POSITIVE_INFINITY;
  for (let q = 1; q < n + 2; q++) {
    const own = f[q]! + q * q;
    let s = 0;
    for (;;) {
      const p = v[k]!;
      s = (own - f[p]! - p * p) / (2 * (q - p));
      if (s > z[k]!) break;
      k--;
    }
    k++;
    v[k] = q;
    z[k] = s;
    z[k + 1] = Number.POSITIVE_INFINITY;
  }
  k = 0;
  for (let q = 1; q <= n; q++) {
    while (z[k + 1]! < q) k++;
    const p = v[k]!;
    out[from + q - 1] = Math.sqrt((q - p) * (q - p) + f[p]!);
  }
}
