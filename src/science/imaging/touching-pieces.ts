/**
 * Pieces that touch, told apart by the neck between them: each hill of the distance map is a piece when the way to the
 * next hill narrows enough.
 */
import { distanceInside } from './distance.ts';
import { takeInts } from './kernels/room.ts';

export interface SplitRule {
  /** The neck's half width must be below this part of the smaller piece's. */
  readonly neck: number;
  /** And the smaller hill must rise above the neck by this many px. */
  readonly rise: number;
}

export const SPLIT: SplitRule = { neck: 0.72, rise: 1.1 };

/** Pixels of the mask, those farthest inside first, then in reading order: squares of distances are whole numbers. */
function fromInside(mask: Uint8Array, distance: Float32Array): Int32Array {
  const square = (i: number): number => Math.round(distance[i]! * distance[i]!);
  let deepest = 0;
  let n = 0;
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    n++;
    if (distance[i]! > deepest) deepest = distance[i]!;
  }
  const most = Math.round(deepest * deepest);
  /** Where the pixels of each square begin, the largest first. */
  const next = new Int32Array(most + 2);
  for (let i = 0; i < mask.length; i++) if (mask[i]) next[most - square(i) + 1]!++;
  for (let k = 1; k < next.length; k++) next[k]! += next[k - 1]!;
  const order = new Int32Array(n);
  for (let i = 0; i < mask.length; i++) if (mask[i]) order[next[most - square(i)]!++] = i;
  return order;
}

/** Labels 1… of the pieces in a mask; 1 everywhere when nothing is to be split. */
export function splitTouching(
  mask: Uint8Array,
  width: number,
  height: number,
  rule: SplitRule = SPLIT,
): { label: Int32Array; count: number } {
  const distance = distanceInside(mask, width, height);
  const order = fromInside(mask, distance);
  const parent: number[] = [];
  const peak: number[] = [];
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    parent[i] = r;
    return r;
  };
  // A rim of nothing keeps neighbours inside the window.
  const wide = width + 2;
  const basin = new Int32Array(wide * (height + 2)).fill(-1);
  /** Pairs that met and stayed apart must not merge later through a lower pass. */
  const apart = new Set<number>();
  const key = (p: number, q: number) => Math.min(p, q) * 65536 + Math.max(p, q);
  const near: number[] = [];
  for (let k = 0; k < order.length; k++) {
    const i = order[k]!;
    const y = Math.floor(i / width);
    const at = i + 2 * y + wide + 1;
    near.length = 0;
    let first = -1;
    let uphill = -1;
    let highest = -1;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const b = basin[at + dy * wide + dx]!;
        if (b < 0) continue;
        const d = distance[i + dy * width + dx]!;
        if (d > highest) {
          highest = d;
          uphill = at + dy * wide + dx;
        }
        const r = parent[b] === b ? b : root(b);
        if (r === first) continue;
        if (first < 0) first = r;
        if (!near.includes(r)) near.push(r);
      }
    }
    if (near.length === 0) {
      basin[at] = parent.length;
      parent.push(parent.length);
      peak.push(distance[i]!);
      continue;
    }
    if (near.length > 1) near.sort((p, q) => peak[q]! - peak[p]! || p - q);
    let home = near[0]!;
    for (let k = 1; k < near.length; k++) {
      const other = near[k]!;
      const low = Math.min(peak[home]!, peak[other]!);
      const d = distance[i]!;
      const separate = d < rule.neck * low && low - d > rule.rise;
      if (separate || apart.has(key(home, other))) {
        apart.add(key(home, other));
        continue;
      }
      parent[other] = home;
      peak[home] = Math.max(peak[home]!, peak[other]!);
      home = root(home);
    }
    // The pixel itself belongs to the hill whose slope it lies on.
    basin[at] = root(basin[uphill]!);
  }
  const names = new Map<number, number>();
  const label = takeInts(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    const r = root(basin[i + 2 * Math.floor(i / width) + wide + 1]!);
    if (!names.has(r)) names.set(r, names.size + 1);
    label[i] = names.get(r)!;
  }
  return { label, count: names.size };
}
