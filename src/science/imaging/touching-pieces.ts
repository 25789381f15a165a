/**
 * Pieces that touch, told apart by the neck between them: each hill of the distance map is a piece when the way to the
 * next hill narrows enough.
 */
import { rootOf } from './connected.ts';
import { distanceInside } from './distance.ts';
import { takeInts } from './kernels/room.ts';

export interface SplitRule {
  /** The neck's half width must be below this part of the smaller piece's. */
  readonly neck: number;
  /** And the smaller hill must rise above the neck by this many px. */
  readonly rise: number;
}

export const SPLIT: SplitRule = { neck: 0.72, rise: 1.1 };

const squareOf = (distance: number): number => Math.round(distance * distance);

/** Pixels of the mask, those farthest inside first, then in reading order: squares of distances are whole numbers. */
function fromInside(mask: Uint8Array, distance: Float32Array): Int32Array {
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
  for (let i = 0; i < mask.length; i++) if (mask[i]) next[most - squareOf(distance[i]!) + 1]!++;
  for (let k = 1; k < next.length; k++) next[k]! += next[k - 1]!;
  const order = new Int32Array(n);
  for (let i = 0; i < mask.length; i++) if (mask[i]) order[next[most - squareOf(distance[i]!)]!++] = i;
  return order;
}

/** Labels 1… of the pieces in a mask; 1 everywhere when nothing is to be split. `distance` is the mask's own. */
export function splitTouching(
  mask: Uint8Array,
  width: number,
  height: number,
  distance = distanceInside(mask, width, height),
  rule: SplitRule = SPLIT,
): { label: Int32Array; count: number } {
  const order = fromInside(mask, distance);
  const parent: number[] = [];
  const peak: number[] = [];
  // A rim of nothing keeps neighbours inside the window.
  const wide = width + 2;
  const basin = new Int32Array(wide * (height + 2)).fill(-1);
  /** Pairs that met and stayed apart must not merge later through a lower pass. */
  const apart = new Set<number>();
  /** Hills around a pixel, and how many. */
  const near = new Int32Array(8);
  for (let k = 0; k < order.length; k++) {
    const i = order[k]!;
    const y = Math.floor(i / width);
    const at = i + 2 * y + wide + 1;
    let met = 0;
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
        const r = parent[b] === b ? b : rootOf(parent, b);
        if (r === first) continue;
        if (first < 0) first = r;
        if (!among(near, met, r)) near[met++] = r;
      }
    }
    if (met === 0) {
      basin[at] = parent.length;
      parent.push(parent.length);
      peak.push(distance[i]!);
      continue;
    }
    if (met > 1) highestFirst(near, met, peak);
    let home = near[0]!;
    for (let k = 1; k < met; k++) {
      const other = near[k]!;
      const low = Math.min(peak[home]!, peak[other]!);
      const d = distance[i]!;
      const separate = d < rule.neck * low && low - d > rule.rise;
      const pair = Math.min(home, other) * 65536 + Math.max(home, other);
      if (separate || apart.has(pair)) {
        apart.add(pair);
        continue;
      }
      parent[other] = home;
      peak[home] = Math.max(peak[home]!, peak[other]!);
      home = rootOf(parent, home);
    }
    // The pixel itself belongs to the hill whose slope it lies on.
    basin[at] = rootOf(parent, basin[uphill]!);
  }
  const names = new Map<number, number>();
  const label = takeInts(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    const r = rootOf(parent, basin[i + 2 * Math.floor(i / width) + wide + 1]!);
    if (!names.has(r)) names.set(r, names.size + 1);
    label[i] = names.get(r)!;
  }
  return { label, count: names.size };
}

/** Few hills meet at a pixel: they are put in order in place. */
function highestFirst(hills: Int32Array, n: number, peak: readonly number[]): void {
  for (let i = 1; i < n; i++) {
    const hill = hills[i]!;
    let k = i;
    for (; k > 0 && isBefore(peak, hill, hills[k - 1]!); k--) hills[k] = hills[k - 1]!;
    hills[k] = hill;
  }
}

function among(hills: Int32Array, n: number, hill: number): boolean {
  for (let i = 0; i < n; i++) if (hills[i] === hill) return true;
  return false;
}

const isBefore = (peak: readonly number[], p: number, q: number): boolean =>
  peak[p]! > peak[q]! || (peak[p]! === peak[q]! && p < q);
