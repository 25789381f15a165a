/**
 * Largest value within ± r in both directions, in time that does not grow with r: maxima from the left and from the
 * right within blocks of 2r + 1. Source of the method: van Herk, Pattern Recognition Letters 13 (1992) 517–521.
 */
export function localMax(data: Float32Array, width: number, height: number, r: number): Float32Array {
  const out = new Float32Array(data.length);
  const longest = Math.max(width, height) + 4 * r + 2;
  const line = new Float32Array(longest);
  const fore = new Float32Array(longest);
  const back = new Float32Array(longest);
  const block = 2 * r + 1;
  const pass = (from: Float32Array, start: number, step: number, n: number) => {
    const padded = Math.ceil((n + 2 * r) / block) * block;
    line.fill(0, 0, padded);
    for (let i = 0, k = start; i < n; i++, k += step) line[i + r] = from[k]!;
    for (let b = 0; b < padded; b += block) {
      const end = b + block - 1;
      fore[b] = line[b]!;
      for (let i = b + 1; i <= end; i++) fore[i] = Math.max(line[i]!, fore[i - 1]!);
      back[end] = line[end]!;
      for (let i = end - 1; i >= b; i--) back[i] = Math.max(line[i]!, back[i + 1]!);
    }
    for (let i = 0, k = start; i < n; i++, k += step) {
      const f = fore[i + 2 * r]!;
      const g = back[i]!;
      out[k] = Math.max(f, g);
    }
  };
  for (let y = 0; y < height; y++) pass(data, y * width, 1, width);
  for (let x = 0; x < width; x++) pass(out, x, width, height);
  return out;
}
