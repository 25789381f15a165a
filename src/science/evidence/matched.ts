/** Pieces that two people marked, matched by place. */
import type { Place } from './finder.ts';

export interface Matched {
  /** Pairs of positions in the two lists. */
  readonly both: readonly (readonly [first: number, second: number])[];
  readonly onlyFirst: readonly number[];
  readonly onlySecond: readonly number[];
}

/**
 * Matches places of two lists one to one, nearest pairs first, none farther than `reach`.
 * Holds for: pieces farther apart than twice the reach; ties go to the earlier ones.
 * Deceives when: reach is larger than the pieces' distances: neighbours are then paired.
 */
export function matchByPlace(first: readonly Place[], second: readonly Place[], reach: number): Matched {
  if (!(reach > 0)) throw new RangeError(`reach: a length above 0 is needed, given ${reach}`);
  const pairs: { i: number; j: number; far: number }[] = [];
  first.forEach(([x, y], i) => {
    second.forEach(([u, v], j) => {
      const far = Math.hypot(x - u, y - v);
      if (far <= reach) pairs.push({ i, j, far });
    });
  });
  pairs.sort((a, b) => a.far - b.far || a.i - b.i || a.j - b.j);
  const usedFirst = new Set<number>();
  const usedSecond = new Set<number>();
  const both: [number, number][] = [];
  for (const { i, j } of pairs) {
    if (usedFirst.has(i) || usedSecond.has(j)) continue;
    usedFirst.add(i);
    usedSecond.add(j);
    both.push([i, j]);
  }
  return {
    both: both.sort((a, b) => a[0] - b[0]),
    onlyFirst: first.flatMap((_, i) => (usedFirst.has(i) ? [] : [i])),
    onlySecond: second.flatMap((_, j) => (usedSecond.has(j) ? [] : [j])),
  };
}
