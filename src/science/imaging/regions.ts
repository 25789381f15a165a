/** Runs of candidate pixels grouped into regions that hang together, across tiles and strips. */
import type { Runs } from './significance.ts';

export interface Region {
  readonly x0: number;
  readonly y0: number;
  /** First column and row beyond. */
  readonly x1: number;
  readonly y1: number;
  /** Row, first pixel, pixel after the last: three numbers a run, by row. */
  readonly runs: Int32Array;
}

/** Runs of regions that later rows may still touch, and which run each hangs together with: plain data. */
export interface OpenRuns {
  readonly runs: readonly number[];
  readonly parent: readonly number[];
}

export interface RunGroups {
  /** Takes the runs of all rows before `nextRow`; gives the regions that are whole. */
  add(runs: readonly Runs[], nextRow: number): Region[];
  finish(): Region[];
  /** What is still open: groups that begin with it go on as these do. */
  open(): OpenRuns;
}

/**
 * Groups runs that touch (8 neighbours), taking rows in order. Regions are given out as soon as no later row can touch
 * them; their order (last row, then first run) does not depend on how the rows were cut into strips.
 */
export function groupRuns(begun: OpenRuns = { runs: [], parent: [] }): RunGroups {
  let parent = begun.parent.slice();
  let held = begun.runs.slice();
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    while (parent[i] !== r) {
      const up = parent[i]!;
      parent[i] = r;
      i = up;
    }
    return r;
  };

  const close = (before: number): Region[] => {
    const n = held.length / 3;
    const lowest = new Int32Array(n).fill(-1);
    for (let i = 0; i < n; i++) lowest[root(i)] = Math.max(lowest[root(i)]!, held[3 * i]!);
    const groups = new Map<number, number[]>();
    const keptRuns: number[] = [];
    const keptParent: number[] = [];
    const moved = new Map<number, number>();
    for (let i = 0; i < n; i++) {
      const r = root(i);
      if (lowest[r]! < before - 1) {
        const own = groups.get(r) ?? [];
        if (own.length === 0) groups.set(r, own);
        own.push(held[3 * i]!, held[3 * i + 1]!, held[3 * i + 2]!);
      } else {
        const k = keptRuns.length / 3;
        if (!moved.has(r)) moved.set(r, k);
        keptRuns.push(held[3 * i]!, held[3 * i + 1]!, held[3 * i + 2]!);
        keptParent.push(moved.get(r)!);
      }
    }
    held = keptRuns;
    parent = keptParent;
    return [...groups.values()].map(regionOf);
  };

  return {
    add(tiles, nextRow) {
      const rows = mergeSorted(tiles);
      const start = held.length / 3;
      for (let i = 0; i < rows.length; i++) held.push(rows[i]!);
      for (let i = start; i < held.length / 3; i++) parent.push(i);
      // Two pointers over the rows above and here; runs held from before are searched from the first of the row above.
      let above = 0;
      for (let i = start; i < held.length / 3; i++) {
        const y = held[3 * i]!;
        const a = held[3 * i + 1]!;
        const b = held[3 * i + 2]!;
        if (i > 0 && held[3 * i - 3] === y && held[3 * i - 1] === a) parent[root(i)] = root(i - 1);
        while (
          above < i &&
          (held[3 * above]! < y - 1 || (held[3 * above] === y - 1 && held[3 * above + 2]! < a))
        )
          above++;
        for (let k = above; k < i && held[3 * k] === y - 1 && held[3 * k + 1]! <= b; k++) {
          const p = root(k);
          const q = root(i);
          if (p !== q) parent[Math.max(p, q)] = Math.min(p, q);
        }
      }
      return close(nextRow);
    },
    finish: () => close(Number.POSITIVE_INFINITY),
    open: () => ({ runs: held.slice(), parent: parent.slice() }),
  };
}

/** Runs of several tiles in row order. */
function mergeSorted(tiles: readonly Runs[]): Int32Array {
  const total = tiles.reduce((n, t) => n + t.length / 3, 0);
  const order: [number, number, number][] = [];
  for (const t of tiles) for (let i = 0; i < t.length; i += 3) order.push([t[i]!, t[i + 1]!, t[i + 2]!]);
  order.sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const out = new Int32Array(total * 3);
  for (let i = 0; i < order.length; i++) out.set(order[i]!, 3 * i);
  return out;
}

function regionOf(runs: number[]): Region {
  let x0 = Number.POSITIVE_INFINITY;
  let x1 = 0;
  for (let i = 0; i < runs.length; i += 3) {
    x0 = Math.min(x0, runs[i + 1]!);
    x1 = Math.max(x1, runs[i + 2]!);
  }
  return { x0, y0: runs[0]!, x1, y1: runs[runs.length - 3]! + 1, runs: Int32Array.from(runs) };
}
