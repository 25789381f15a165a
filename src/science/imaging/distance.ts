/** Distance of each pixel of a shape to the nearest pixel outside it, exact. Beyond the window counts as outside. */

/**
 * Squared distances by lower envelopes of parabolas, rows then columns.
 * Source of the method: Felzenszwalb and Huttenlocher, Theory of Computing 8 (2012) 415–428.
 */
export function distanceInside(mask: Uint8Array, width: number, height: number): Float32Array {
  const far = 1e9;
  const out = new Float32Array(width * height);
  const n = Math.max(width, height) + 2;
  const f = new Float64Array(n);
  const d = new Float64Array(n);
  const v = new Int32Array(n);
  const z = new Float64Array(n + 1);
  const envelope = (m: number) => {
    let k = 0;
    v[0] = 0;
    z[0] = -far;
    z[1] = far;
    for (let q = 1; q < m; q++) {
      let s = 0;
      for (;;) {
        const p = v[k]!;
        s = (f[q]! + q * q - f[p]! - p * p) / (2 * (q - p));
        if (s > z[k]! || k === 0) break;
        k--;
      }
      if (s <= z[k]!) s = z[k]!;
      k++;
      v[k] = q;
      z[k] = s;
      z[k + 1] = far;
    }
    k = 0;
    for (let q = 0; q < m; q++) {
      while (z[k + 1]! < q) k++;
      const p = v[k]!;
      d[q] = (q - p) * (q - p) + f[p]!;
    }
  };
  for (let x = 0; x < width; x++) {
    f[0] = 0;
    f[height + 1] = 0;
    for (let y = 0; y < height; y++) f[y + 1] = mask[y * width + x] ? far : 0;
    envelope(height + 2);
    for (let y = 0; y < height; y++) out[y * width + x] = d[y + 1]!;
  }
  for (let y = 0; y < height; y++) {
    f[0] = 0;
    f[width + 1] = 0;
    for (let x = 0; x < width; x++) f[x + 1] = out[y * width + x]!;
    envelope(width + 2);
    for (let x = 0; x < width; x++) out[y * width + x] = Math.sqrt(d[x + 1]!);
  }
  return out;
}
