/** Connected parts of small masks, and their holes. */
import { takeBytes, takeInts, withKernels } from './kernels/room.ts';

export interface Parts {
  /** 0 is nothing; parts count from 1. */
  readonly label: Int32Array;
  readonly count: number;
  readonly sizes: number[];
  /** First column and row of each part, and those beyond. */
  readonly boxes: readonly Box[];
}

export interface Box {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

/** A mask's runs of each row, joined with those they touch in the row above. */
export interface JoinedRuns {
  /** First pixel, and pixel after the last. */
  readonly first: readonly number[];
  readonly end: readonly number[];
  /** By `rootOf`, the first run, in reading order, of the part that a run belongs to. */
  readonly parent: number[];
}

export function joinedRuns(mask: Uint8Array, width: number, height: number, eight = true): JoinedRuns {
  const first: number[] = [];
  const end: number[] = [];
  const parent: number[] = [];
  const reach = eight ? 1 : 0;
  const fours = inFours(mask);
  let above = 0;
  let here = 0;
  for (let y = 0; y < height; y++) {
    const o = y * width;
    let near = above;
    for (let x = 0; x < width; x++) {
      if (((o + x) & 3) === 0 && x + 4 <= width && fours?.[(o + x) >> 2] === 0) {
        x += 3;
        continue;
      }
      if (!mask[o + x]) continue;
      const start = x;
      while (x < width && mask[o + x]) x++;
      const run = first.length;
      first.push(o + start);
      end.push(o + x);
      parent.push(run);
      // Runs above that reach this one, as places of this row.
      while (near < here && end[near]! + width + reach <= o + start) near++;
      for (let k = near; k < here && first[k]! + width < o + x + reach; k++) {
        const p = rootOf(parent, k);
        const q = rootOf(parent, run);
        if (p < q) parent[q] = p;
        else parent[p] = q;
      }
    }
    above = here;
    here = first.length;
  }
  return { first, end, parent };
}

/** A mask's bytes four at a time, to pass over what is empty; null where they do not lie so. */
export const inFours = (mask: Uint8Array): Int32Array | null =>
  mask.byteOffset % 4 === 0 ? new Int32Array(mask.buffer, mask.byteOffset, mask.length >> 2) : null;

/** Parts that hang together over 8 (or 4) neighbours, numbered in reading order of their first pixel. */
export function connectedParts(mask: Uint8Array, width: number, height: number, eight = true): Parts {
  const label = takeInts(width * height);
  const { first, end, parent } = joinedRuns(mask, width, height, eight);
  const sizes = [0];
  const boxes: Box[] = [{ x0: 1e9, y0: 1e9, x1: 0, y1: 0 }];
  const name = new Int32Array(first.length);
  for (let run = 0; run < first.length; run++) {
    const [from, to] = [first[run]!, end[run]!];
    const x = from % width;
    const y = (from - x) / width;
    const r = rootOf(parent, run);
    if (r === run) {
      name[run] = sizes.length;
      sizes.push(0);
      boxes.push({ x0: x, y0: y, x1: 0, y1: 0 });
    }
    const k = name[r]!;
    sizes[k]! += to - from;
    const box = boxes[k]!;
    box.x0 = Math.min(box.x0, x);
    box.x1 = Math.max(box.x1, x + to - from);
    box.y1 = y + 1;
    label.fill(k, from, to);
  }
  return { label, count: sizes.length - 1, sizes, boxes };
}

/** First of what i hangs together with; the ways there are shortened. */
export function rootOf(parent: number[], i: number): number {
  let r = i;
  while (parent[r] !== r) r = parent[r]!;
  let at = i;
  while (parent[at] !== r) {
    const up = parent[at]!;
    parent[at] = r;
    at = up;
  }
  return r;
}

/** Fills what is enclosed by the mask, up to a largest hole area; returns the number of pixels filled. */
export function fillHoles(mask: Uint8Array, width: number, height: number, largest: number): number {
  const outside = takeBytes(mask.length);
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
