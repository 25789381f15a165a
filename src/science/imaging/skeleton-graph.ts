/** A thinned shape as branches between ends and junctions, and the fibres that run straight through the junctions. */

import { thin } from './middle-line.ts';
import { lengthOf } from './outline.ts';

/** Pixels from one end or junction to the next, both included. */
interface Branch {
  readonly way: number[];
  /** Junction numbers at both ends; −1 is a free end. */
  ends: [number, number];
}

/** Neighbours of a pixel on the line in reading order, put into `out`; how many there are. */
function neighbours(line: Uint8Array, width: number, height: number, i: number, out: Int32Array): number {
  const x = i % width;
  const y = (i - x) / width;
  let n = 0;
  for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
    for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
      const k = v * width + u;
      if (k !== i && line[k]) out[n++] = k;
    }
  }
  return n;
}

/** A thinned shape whose branches are followed. */
interface Thinned {
  readonly line: Uint8Array;
  readonly width: number;
  readonly height: number;
  /** Number of the junction that a pixel belongs to, −1 for others. */
  readonly junction: Int32Array;
  /** 1 for pixels that lie on a branch already. */
  readonly seen: Uint8Array;
}

/** Branches of a thinned shape; pixels with three or more neighbours are junctions, touching ones count as one. */
function branchesOf(line: Uint8Array, width: number, height: number): Branch[] {
  const junction = new Int32Array(line.length).fill(-1);
  const around = new Int32Array(8);
  const pixels: number[] = [];
  const nodes: number[] = [];
  /** 1 for pixels of junctions. */
  const node = new Uint8Array(line.length);
  for (let i = 0; i < line.length; i++) {
    if (!line[i]) continue;
    pixels.push(i);
    if (neighbours(line, width, height, i, around) <= 2) continue;
    nodes.push(i);
    node[i] = 1;
  }
  let junctions = 0;
  for (const i of nodes) {
    if (junction[i]! >= 0) continue;
    const stack = [i];
    junction[i] = junctions;
    while (stack.length) {
      const n = neighbours(line, width, height, stack.pop()!, around);
      for (let p = 0; p < n; p++) {
        const k = around[p]!;
        if (!node[k] || junction[k]! >= 0) continue;
        junction[k] = junctions;
        stack.push(k);
      }
    }
    junctions++;
  }
  const branches: Branch[] = [];
  const shape: Thinned = { line, width, height, junction, seen: new Uint8Array(line.length) };
  const { seen } = shape;
  for (const i of nodes) {
    const n = neighbours(line, width, height, i, around);
    for (let p = 0; p < n; p++) {
      const k = around[p]!;
      if (junction[k]! < 0 && !seen[k]) branches.push(follow(shape, k, i));
    }
  }
  for (const i of pixels) {
    if (junction[i]! < 0 && !seen[i] && neighbours(line, width, height, i, around) <= 1)
      branches.push(follow(shape, i, -1));
  }
  for (const i of pixels) if (junction[i]! < 0 && !seen[i]) branches.push(follow(shape, i, -1));
  return branches;
}

/** The branch that begins at `start`, coming from the junction pixel `from`, or from nowhere (−1). */
function follow({ line, width, height, junction, seen }: Thinned, start: number, from: number): Branch {
  const way = from >= 0 ? [from, start] : [start];
  let last = from;
  let at = start;
  for (;;) {
    if (junction[at]! >= 0 && way.length > 1) break;
    seen[at] = 1;
    const n = neighbours(line, width, height, at, AROUND);
    // A junction ends the branch where one is near, else the first pixel that is not yet on a branch.
    let to = -1;
    for (let p = 0; p < n; p++) {
      const k = AROUND[p]!;
      if (k === last || (seen[k] && junction[k]! < 0)) continue;
      if (junction[k]! >= 0 && k !== from) {
        to = k;
        break;
      }
      if (to < 0) to = k;
    }
    if (to < 0) break;
    last = at;
    at = to;
    way.push(at);
  }
  return { way, ends: [junction[way[0]!]!, junction[way[way.length - 1]!]!] };
}

const AROUND = new Int32Array(8);

/** Unit direction in which a branch leaves its end, over up to `reach` pixels. */
function leaving(way: readonly number[], atStart: boolean, width: number, reach: number): [number, number] {
  const n = way.length;
  const a = atStart ? way[0]! : way[n - 1]!;
  const b = atStart ? way[Math.min(n - 1, reach)]! : way[Math.max(0, n - 1 - reach)]!;
  const dx = (b % width) - (a % width);
  const dy = Math.floor(b / width) - Math.floor(a / width);
  const d = lengthOf(dx, dy) || 1;
  return [dx / d, dy / d];
}

/**
 * Ways of single fibres through a thin shape: short spurs pruned, and at each junction the two branches that continue
 * each other best taken as one. `distance` is the distance map of the shape.
 */
export function fibreWays(
  mask: Uint8Array,
  distance: Float32Array,
  width: number,
  height: number,
): number[][] {
  const line = thin(mask, width, height);
  let branches = branchesOf(line, width, height);
  // A spur no longer than the shape is thick there is only its rough rim.
  for (let round = 0; round < 3; round++) {
    const spurs = branches.filter((b) => {
      const free = (b.ends[0] < 0 ? 1 : 0) + (b.ends[1] < 0 ? 1 : 0);
      if (free !== 1) return false;
      const root = b.ends[0] < 0 ? b.way[b.way.length - 1]! : b.way[0]!;
      return b.way.length < 2.2 * distance[root]! + 3;
    });
    if (spurs.length === 0) break;
    for (const s of spurs) {
      const root = s.ends[0] < 0 ? s.way.length - 1 : 0;
      s.way.forEach((i, k) => {
        if (k !== root) line[i] = 0;
      });
    }
    branches = branchesOf(line, width, height);
  }
  const joined: (Branch | null)[] = branches.slice();
  const meeting = new Map<number, number>();
  for (const b of branches) for (const e of b.ends) if (e >= 0) meeting.set(e, (meeting.get(e) ?? 0) + 1);
  const junctionsOf = new Set(branches.flatMap((b) => b.ends.filter((e) => e >= 0)));
  for (const j of junctionsOf) {
    for (;;) {
      let best: [number, boolean, number, boolean] | null = null;
      // Where two ends meet and no third, they go on from each other however sharply they bend.
      let straightest = meeting.get(j) === 2 ? 1.1 : -0.7;
      for (let p = 0; p < joined.length; p++) {
        for (let q = p; q < joined.length; q++) {
          const a = joined[p];
          const b = joined[q];
          if (!a || !b || p === q) continue;
          for (const sa of [0, 1] as const) {
            for (const sb of [0, 1] as const) {
              if (a.ends[sa] !== j || b.ends[sb] !== j) continue;
              const u = leaving(a.way, sa === 0, width, 10);
              const v = leaving(b.way, sb === 0, width, 10);
              const cos = u[0] * v[0] + u[1] * v[1];
              if (cos < straightest) {
                straightest = cos;
                best = [p, sa === 0, q, sb === 0];
              }
            }
          }
        }
      }
      if (!best) break;
      const [p, aStart, q, bStart] = best;
      const a = joined[p]!;
      const b = joined[q]!;
      const first = aStart ? a.way.toReversed() : a.way;
      const second = bStart ? b.way : b.way.toReversed();
      joined[p] = { way: [...first, ...second], ends: [a.ends[aStart ? 1 : 0], b.ends[bStart ? 1 : 0]] };
      joined[q] = null;
    }
  }
  return joined.filter((b): b is Branch => b !== null).map((b) => b.way);
}
