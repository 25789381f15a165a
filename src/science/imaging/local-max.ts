/** Largest value within ± r in both directions. */
export function localMax(data: Float32Array, width: number, height: number, r: number): Float32Array {
  const wide = new Float32Array(data.length);
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    for (let x = 0; x < width; x++) {
      let m = 0;
      const to = Math.min(width - 1, x + r);
      for (let u = Math.max(0, x - r); u <= to; u++) if (data[o + u]! > m) m = data[o + u]!;
      wide[o + x] = m;
    }
  }
  for (let y = 0; y < height; y++) {
    const from = Math.max(0, y - r);
    const to = Math.min(height - 1, y + r);
    for (let x = 0; x < width; x++) {
      let m = 0;
      for (let v = from; v <= to; v++) {
        const t = wide[v * width + x]!;
        if (t > m) m = t;
      }
      out[y * width + x] = m;
    }
  }
  return out;
}
