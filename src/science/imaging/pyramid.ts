/** Halving pyramids of plain float planes, row by row; the finest level is the photograph itself. */

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
  const out = new Float32Array(w * h);
  const a = from.data;
  for (let y = 0; y < h; y++) {
    let i = 2 * y * from.width;
    let j = i + from.width;
    const o = y * w;
    for (let x = 0; x < w; x++, i += 2, j += 2) out[o + x] = 0.25 * (a[i]! + a[i + 1]! + a[j]! + a[j + 1]!);
  }
  return { width: w, height: h, data: out };
}

/** Binomial smoothing (1 2 1)² / 16, the border repeated. */
export function smooth(from: Plane): Plane {
  const { width: w, height: h, data: a } = from;
  const out = new Float32Array(w * h);
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
  return { width: w, height: h, data: out };
}
