/** Runs of candidate pixels grouped into regions that hang together, across tiles and strips. */
import { rootOf } from './connected.ts';
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

interface Held {
  runs: number[];
  parent: number[];
}

/**
 * Groups runs that touch (8 neighbours), taking rows in order. Regions are given out as soon as no later row can touch
 * them; their order (last row, then first run) does not depend on how the rows were cut into strips.
 */
export function groupRuns(begun: OpenRuns = { runs: [], parent: [] }): RunGroups {
  const held: Held = { runs: begun.runs.slice(), parent: begun.parent.slice() };
  return {
    add(tiles, nextRow) {
      takeRuns(held, mergeSorted(tiles));
      return wholeBefore(held, nextRow);
    },
    finish: () => wholeBefore(held, Number.POSITIVE_INFINITY),
    open: () => ({ runs: held.runs.slice(), parent: held.parent.slice() }),
  };
}

function takeRuns({ runs, parent }: Held, rows: Int32Array): void {
  const start = runs.length / 3;
  for (let i = 0; i < rows.length; i++) runs.push(rows[i]!);
  for (let i = start; i < runs.length / 3; i++) parent.push(i);
  // Two pointers over the rows above and here; runs held from before are searched from the first of the row above.
  let above = 0;
  for (let i = start; i < runs.length / 3; i++) {
    const y = runs[3 * i]!;
    const a = runs[3 * i + 1]!;
    const b = runs[3 * i + 2]!;
    if (i > 0 && runs[3 * i - 3] === y && runs[3 * i - 1] === a)
      parent[rootOf(parent, i)] = rootOf(parent, i - 1);
    while (above < i && (runs[3 * above]! < y - 1 || (runs[3 * above] === y - 1 && runs[3 * above + 2]! < a)))
      above++;
    for (let k = above; k < i && runs[3 * k] === y - 1 && runs[3 * k + 1]! <= b; k++) {
      const p = rootOf(parent, k);
      const q = rootOf(parent, i);
      if (p !== q) parent[Math.max(p, q)] = Math.min(p, q);
    }
  }
}

/** Regions that no row from `before` on can touch; they are held no longer. */
function wholeBefore(held: Held, before: number): Region[] {
  const { runs, parent } = held;
  const n = runs.length / 3;
  const lowest = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i++) {
    const r = rootOf(parent, i);
    lowest[r] = Math.max(lowest[r]!, runs[3 * i]!);
  }
  const groups = new Map<number, number[]>();
  const keptRuns: number[] = [];
  const keptParent: number[] = [];
  const moved = new Map<number, number>();
  for (let i = 0; i < n; i++) {
    const r = rootOf(parent, i);
    if (lowest[r]! < before - 1) {
      const own = groups.get(r) ?? [];
      if (own.length === 0) groups.set(r, own);
      own.push(runs[3 * i]!, runs[3 * i + 1]!, runs[3 * i + 2]!);
    } else {
      const k = keptRuns.length / 3;
      if (!moved.has(r)) moved.set(r, k);
      keptRuns.push(runs[3 * i]!, runs[3 * i + 1]!, runs[3 * i + 2]!);
      keptParent.push(moved.get(r)!);
    }
  }
  held.runs = keptRuns;
  held.parent = keptParent;
  return Array.from(groups.values(), regionOf);
}

/** Runs of several tiles in row order. */
function mergeSorted(tiles: readonly Runs[]): Int32Array {
  let total = 0;
  let top = Number.POSITIVE_INFINITY;
  let bottom = 0;
  for (const t of tiles) {
    total += t.length;
    for (let i = 0; i < t.length; i += 3) {
      top = Math.min(top, t[i]!);
      bottom = Math.max(bottom, t[i]!);
    }
  }
  const out = new Int32Array(total);
  if (total === 0) return out;
  /** Where the next run of each row goes. */
  const next = new Int32Array(bottom - top + 2);
  for (const t of tiles) for (let i = 0; i < t.length; i += 3) next[t[i]! - top + 1]! += 3;
  for (let y = 1; y < next.length; y++) next[y]! += next[y - 1]!;
  const first = next.slice();
  for (const t of tiles) {
    for (let i = 0; i < t.length; i += 3) {
      const y = t[i]! - top;
      const x = t[i + 1]!;
      // Tiles mostly come from left to right: a run seldom has to go before others of its row.
      let at = next[y]!;
      next[y] = at + 3;
      for (; at > first[y]! && out[at - 2]! > x; at -= 3) out.copyWithin(at, at - 3, at);
      out[at] = t[i]!;
      out[at + 1] = x;
      out[at + 2] = t[i + 2]!;
    }
  }
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
