/** The middle line of a thin shape: thinned to one pixel, followed end to end, smoothed, measured. */

import type { Point } from './finding.ts';
import { lengthOf } from './outline.ts';

/** For each pattern of eight neighbours, whether the pixel goes in the first (1) and in the second phase (2). */
const GOES = Uint8Array.from({ length: 256 }, (_, code) => {
  const p = Array.from({ length: 8 }, (_, k) => (code >> k) & 1);
  const n = p.reduce((sum, v) => sum + v, 0);
  const turns = p.filter((v, k) => v === 0 && p[(k + 1) % 8] === 1).length;
  if (n < 2 || n > 6 || turns !== 1) return 0;
  const [north, , east, , south, , west] = p as number[];
  const first = (north! & east! & south!) === 0 && (east! & south! & west!) === 0;
  const second = (north! & east! & west!) === 0 && (north! & south! & west!) === 0;
  return (first ? 1 : 0) | (second ? 2 : 0);
});

/**
 * Thins a mask to lines one pixel wide. Source of the method: Zhang and Suen, Commun. ACM 27 (1984) 236–239.
 * After each phase has seen every pixel once, only neighbours of what went since are looked at again.
 */
export function thin(mask: Uint8Array, width: number, height: number): Uint8Array {
  const m = new Uint8Array(mask);
  // A rim of nothing keeps the neighbourhood inside the window.
  for (let x = 0; x < width; x++) m[x] = m[(height - 1) * width + x] = 0;
  for (let y = 0; y < height; y++) m[y * width] = m[y * width + width - 1] = 0;
  const around = [-width, -width + 1, 1, width + 1, width, width - 1, -1, -width - 1];
  const looked = new Int32Array(m.length);
  let before: number[] = [];
  let last: number[] = [];
  for (let turn = 0; turn < 2 || before.length + last.length > 0; turn++) {
    const phase = 1 << (turn & 1);
    const gone: number[] = [];
    if (turn < 2) {
      for (let i = 0; i < m.length; i++) if (m[i] && GOES[codeAt(m, width, i)]! & phase) gone.push(i);
    } else {
      for (const list of [before, last]) {
        for (const at of list) {
          for (let k = 0; k < 8; k++) {
            const i = at + around[k]!;
            if (!m[i] || looked[i] === turn) continue;
            looked[i] = turn;
            if (GOES[codeAt(m, width, i)]! & phase) gone.push(i);
          }
        }
      }
    }
    for (const i of gone) m[i] = 0;
    before = last;
    last = gone;
  }
  return m;
}

/** The eight neighbours of a pixel as bits, north first, clockwise. */
const codeAt = (m: Uint8Array, width: number, i: number): number =>
  m[i - width]! |
  (m[i - width + 1]! << 1) |
  (m[i + 1]! << 2) |
  (m[i + width + 1]! << 3) |
  (m[i + width]! << 4) |
  (m[i + width - 1]! << 5) |
  (m[i - 1]! << 6) |
  (m[i - width - 1]! << 7);

/** Longest way along a thinned shape, as pixel indices from end to end. */
export function longestWay(line: Uint8Array, width: number, height: number): number[] {
  let start = -1;
  for (let i = 0; i < line.length && start < 0; i++) if (line[i]) start = i;
  if (start < 0) return [];
  const far = farthest(line, width, height, start);
  const back = farthest(line, width, height, far.at);
  const way: number[] = [];
  for (let i = back.at; i >= 0; i = back.from.get(i) ?? -1) way.push(i);
  return way;
}

function farthest(line: Uint8Array, width: number, height: number, start: number) {
  const distance = new Map<number, number>([[start, 0]]);
  const from = new Map<number, number>();
  // Steps are 1 or √2: a queue in order of distance by buckets of half a pixel is exact enough and stays linear.
  const buckets: number[][] = [[start]];
  let at = start;
  for (let b = 0; b < buckets.length; b++) {
    for (const i of buckets[b] ?? []) {
      const d = distance.get(i)!;
      if (Math.floor(2 * d) !== b) continue;
      if (d > distance.get(at)!) at = i;
      const x = i % width;
      const y = (i - x) / width;
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
          const k = v * width + u;
          if (!line[k] || k === i) continue;
          const to = d + (u !== x && v !== y ? Math.SQRT2 : 1);
          if (to < (distance.get(k) ?? Number.POSITIVE_INFINITY) - 1e-9) {
            distance.set(k, to);
            from.set(k, i);
            const bucket = Math.floor(2 * to);
            while (buckets.length <= bucket) buckets.push([]);
            buckets[bucket]!.push(k);
          }
        }
      }
    }
  }
  return { at, from };
}

/** Pixel steps to a smooth line: means over ± half pixels, the ends kept. */
export function smoothWay(way: readonly Point[], half: number): Point[] {
  const n = way.length;
  const out: Point[] = [];
  for (let i = 0; i < n; i++) {
    const r = Math.min(half, i, n - 1 - i);
    let x = 0;
    let y = 0;
    for (let k = i - r; k <= i + r; k++) {
      x += way[k]![0];
      y += way[k]![1];
    }
    out.push([x / (2 * r + 1), y / (2 * r + 1)]);
  }
  return out;
}

export function wayLength(way: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < way.length; i++)
    sum += lengthOf(way[i]![0] - way[i - 1]![0], way[i]![1] - way[i - 1]![1]);
  return sum;
}
