/**
 * Pieces that touch, told apart by the neck between them: each hill of the distance map is a piece when the way to the
 * next hill narrows enough.
 */
import { distanceInside } from './distance.ts';

export interface SplitRule {
  /** The neck's half width must be below this part of the smaller piece's. */
  readonly neck: number;
  /** And the smaller hill must rise above the neck by this many px. */
  readonly rise: number;
}

export const SPLIT: SplitRule = { neck: 0.72, rise: 1.1 };

/** Pixels of the mask, those farthest inside first, then in reading order. */
function fromInside(mask: Uint8Array, distance: Float32Array): Float64Array {
  let n = 0;
  for (let i = 0; i < mask.length; i++) if (mask[i]) n++;
  // One number a pixel, exact: squares of distances are whole numbers below 2^26, places below 2^27.
  const keys = new Float64Array(n);
  n = 0;
  for (let i = 0; i < mask.length; i++)
    if (mask[i]) keys[n++] = (2 ** 26 - Math.round(distance[i]! * distance[i]!)) * 2 ** 27 + i;
  keys.sort();
  for (let k = 0; k < n; k++) keys[k] = keys[k]! % 2 ** 27;
  return keys;
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
  const basin = new Int32Array(mask.length).fill(-1);
  /** Pairs that met and stayed apart must not merge later through a lower pass. */
  const apart = new Set<number>();
  const key = (p: number, q: number) => Math.min(p, q) * 65536 + Math.max(p, q);
  const near: number[] = [];
  for (const i of order) {
    const x = i % width;
    const y = (i - x) / width;
    near.length = 0;
    let uphill = -1;
    let highest = -1;
    for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
      for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
        const b = basin[v * width + u]!;
        if (b < 0) continue;
        const r = root(b);
        const d = distance[v * width + u]!;
        if (d > highest) {
          highest = d;
          uphill = v * width + u;
        }
        if (!near.includes(r)) near.push(r);
      }
    }
    if (near.length === 0) {
      basin[i] = parent.length;
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
    basin[i] = root(basin[uphill]!);
  }
  const names = new Map<number, number>();
  const label = new Int32Array(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (basin[i]! < 0) continue;
    const r = root(basin[i]!);
    if (!names.has(r)) names.set(r, names.size + 1);
    label[i] = names.get(r)!;
  }
  return { label, count: names.size };
}
