import { takeFloats, withKernels } from './kernels/room.ts';

/**
 * Largest value within ± r in both directions, in time that does not grow with r: maxima from the left and from the
 * right within blocks of 2r + 1. Source of the method: van Herk, Pattern Recognition Letters 13 (1992) 517–521.
 * Values must not be negative.
 */
export function localMax(data: Float32Array, width: number, height: number, r: number): Float32Array {
  const n = width * height;
  const out = takeFloats(n);
  const done = withKernels(4 * (3 * n + 2 * r * width + width), (room) => {
    const to = room.into(out);
    const rows = room.space(4 * (n + 2 * r * width));
    room.kernels.localMax(room.at(data), width, height, r, to, rows, room.space(4 * (width + 2 * r + 16)));
    return room.hand(to, out);
  });
  if (!done) localMaxPlainly(data, width, height, r, out);
  return out;
}

/** The reference for the kernel. */
export function localMaxPlainly(
  data: Float32Array,
  width: number,
  height: number,
  r: number,
  out: Float32Array,
): void {
  const across = new Float32Array(data.length);
  const fore = new Float32Array(width);
  const back = new Float32Array(width);
  const block = 2 * r + 1;
  for (let y = 0; y < height; y++) {
    const o = y * width;
    for (let b = 0; b < width; b += block) {
      const end = Math.min(width, b + block);
      let most = 0;
      for (let x = b; x < end; x++) {
        const v = data[o + x]!;
        if (v > most) most = v;
        fore[x] = most;
      }
      most = 0;
      for (let x = end - 1; x >= b; x--) {
        const v = data[o + x]!;
        if (v > most) most = v;
        back[x] = most;
      }
    }
    const lastBlock = Math.floor((width - 1) / block) * block;
    for (let x = 0; x < width; x++) {
      // Near the left the window lies in the first block, so the maximum from the left has it all; near the right likewise.
      const p = x + r < width ? fore[x + r]! : x - r < lastBlock ? fore[width - 1]! : 0;
      const q = x - r >= 0 ? back[x - r]! : x + r >= width ? fore[width - 1]! : 0;
      across[o + x] = Math.max(p, q);
    }
  }
  // Down the columns the same, whole rows at a time.
  const above = across.slice();
  for (let y = 1; y < height; y++) {
    if (y % block === 0) continue;
    const o = y * width;
    for (let i = o; i < o + width; i++) {
      const v = above[i - width]!;
      if (v > above[i]!) above[i] = v;
    }
  }
  const below = across;
  for (let y = height - 2; y >= 0; y--) {
    if (y % block === block - 1) continue;
    const o = y * width;
    for (let i = o; i < o + width; i++) {
      const v = below[i + width]!;
      if (v > below[i]!) below[i] = v;
    }
  }
  const lastBlock = Math.floor((height - 1) / block) * block;
  const none = -1;
  for (let y = 0; y < height; y++) {
    const up = y + r < height ? y + r : y - r < lastBlock ? height - 1 : none;
    const down = y - r >= 0 ? y - r : none;
    const o = y * width;
    if (up === none && down === none) {
      out.set(above.subarray((height - 1) * width, height * width), o);
    } else if (up === none) out.set(below.subarray(down * width, (down + 1) * width), o);
    else if (down === none) out.set(above.subarray(up * width, (up + 1) * width), o);
    else {
      const a = up * width;
      const b = down * width;
      for (let x = 0; x < width; x++) {
        const p = above[a + x]!;
        const q = below[b + x]!;
        out[o + x] = Math.max(p, q);
      }
    }
  }
}
