/** Connected parts of small masks, and their holes. */
import { takeBytes, withKernels } from './kernels/room.ts';

export interface Parts {
  /** 0 is nothing; parts count from 1. */
  readonly label: Int32Array;
  readonly count: number;
  readonly sizes: number[];
}

/** Parts that hang together over 8 (or 4) neighbours, numbered in reading order of their first pixel. */
export function connectedParts(mask: Uint8Array, width: number, height: number, eight = true): Parts {
  const label = new Int32Array(width * height);
  const sizes = [0];
  const stack: number[] = [];
  let count = 0;
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i] || label[i]) continue;
    count++;
    label[i] = count;
    stack.push(i);
    let size = 0;
    while (stack.length) {
      const at = stack.pop()!;
      size++;
      const x = at % width;
      const y = (at - x) / width;
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
          if (!eight && u !== x && v !== y) continue;
          const k = v * width + u;
          if (mask[k] && !label[k]) {
            label[k] = count;
            stack.push(k);
          }
        }
      }
    }
    sizes.push(size);
  }
  return { label, count, sizes };
}

/** Fills what is enclosed by the mask, up to a largest hole area; returns the number of pixels filled. */
export function fillHoles(mask: Uint8Array, width: number, height: number, largest: number): number {
  const outside = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) outside[i] = mask[i] ? 0 : 1;
  const { label, count, sizes } = connectedParts(outside, width, height, false);
  const open = new Uint8Array(count + 1);
  for (let x = 0; x < width; x++) {
    open[label[x]!] = 1;
    open[label[(height - 1) * width + x]!] = 1;
  }
  for (let y = 0; y < height; y++) {
    open[label[y * width]!] = 1;
    open[label[y * width + width - 1]!] = 1;
  }
  let filled = 0;
  for (let i = 0; i < mask.length; i++) {
    const k = label[i]!;
    if (k && !open[k] && sizes[k]! <= largest) {
      mask[i] = 1;
      filled++;
    }
  }
  return filled;
}

/** Grows a mask of 0 and 1 by r pixels to all sides (a square). */
export function grow(mask: Uint8Array, width: number, height: number, r: number): Uint8Array {
  const n = width * height;
  const out = takeBytes(n);
  const done = withKernels(3 * n + (2 * r + 1) * width, (room) => {
    const to = room.into(out);
    const rows = room.space(n + 2 * r * width);
    room.kernels.dilate(room.at(mask), width, height, r, to, rows, room.space(width + 2 * r + 64));
    return room.hand(to, out);
  });
  if (!done) growPlainly(mask, width, height, r, out);
  return out;
}

/** The reference for the kernel, in time that does not grow with r. */
export function growPlainly(
  mask: Uint8Array,
  width: number,
  height: number,
  r: number,
  out: Uint8Array,
): void {
  out.fill(0);
  const wide = new Uint8Array(mask.length);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    // Up to here the row is set already; runs of the mask each set what lies beyond.
    let done = 0;
    for (let x = 0; x < width; x++) {
      if (!mask[o + x]) continue;
      let end = x + 1;
      while (end < width && mask[o + end]) end++;
      const to = Math.min(width, end + r);
      wide.fill(1, o + Math.max(done, x - r), o + to);
      done = to;
      x = end;
    }
  }
  /** Rows since the column was last set, seen from above, then from below. */
  const since = new Int32Array(width).fill(r + 1);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const n = wide[i] ? 0 : since[x]! + 1;
      since[x] = n;
      if (n <= r) out[i] = 1;
    }
  }
  since.fill(r + 1);
  for (let y = height - 1; y >= 0; y--) {
    for (let x = 0, i = y * width; x < width; x++, i++) {
      const n = wide[i] ? 0 : since[x]! + 1;
      since[x] = n;
      if (n <= r) out[i] = 1;
    }
  }
}
