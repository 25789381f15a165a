/**
 * Which printed square counts a piece. A square owns its left and upper line; a piece that crosses lines belongs to the
 * square that holds the lowest row and column it reaches, so that over all squares each piece is counted exactly once
 * (two sides in, two sides out).
 */
import type { Point } from './finding.ts';
import { type Lattice, mapToGrid } from './scale/lattice.ts';

/** Column and row, or null without a lattice. */
export function countingSquare(
  outline: readonly Point[],
  lattice: Lattice | null,
): readonly [number, number] | null {
  if (!lattice || outline.length === 0) return null;
  let column = Number.NEGATIVE_INFINITY;
  let row = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!;
    const [c, r] = mapToGrid(lattice.map, p[0], p[1]);
    column = Math.max(column, c);
    row = Math.max(row, r);
  }
  return [Math.floor(column), Math.floor(row)];
}
