/** Guards against taking half or a third of the pitch for the pitch: such a lattice has lines without any ink. */
import type { LatticeMap } from './lattice.ts';
import type { SeenPiece } from './sight.ts';

function gcd(a: number, b: number): number {
  let [x, y] = [Math.abs(a), Math.abs(b)];
  while (y > 0) [x, y] = [y, x % y];
  return x;
}

/** A line counts as printed when it shows this share of what well-printed lines show (project choice). */
const PRINTED = 0.3;

/** Numbers of the lines that carry ink, per direction. */
export function inkedLines(pieces: readonly SeenPiece[]): { column: number[]; row: number[] } {
  const lines = new Map<string, { runs: 'column' | 'row'; index: number; all: number; inked: number }>();
  for (const { piece, inked } of pieces) {
    const key = `${piece.runs} ${piece.index}`;
    const line = lines.get(key) ?? { runs: piece.runs, index: piece.index, all: 0, inked: 0 };
    line.all++;
    if (inked) line.inked++;
    lines.set(key, line);
  }
  const long = [...lines.values()].filter((l) => l.all >= 4);
  const shares = long.map((l) => l.inked / l.all).sort((a, b) => b - a);
  const well = shares[Math.floor(shares.length / 6)] ?? 0;
  const printed = long.filter((l) => l.inked / l.all >= Math.max(0.08, PRINTED * well));
  const of = (runs: 'column' | 'row') => printed.filter((l) => l.runs === runs).map((l) => l.index);
  return { column: of('column'), row: of('row') };
}

/** The map whose pitch is the widest that still puts a line on every inked line; the same map when that is its own. */
export function coarsest(map: LatticeMap, pieces: readonly SeenPiece[]): LatticeMap {
  const { column, row } = inkedLines(pieces);
  if (column.length === 0 || row.length === 0) return map;
  let times = 0;
  for (const indices of [column, row]) for (const i of indices) times = gcd(times, i - indices[0]!);
  if (times < 2) return map;
  const h = map.plane;
  const [c, r] = [column[0]!, row[0]!];
  return {
    ...map,
    plane: [
      (h[0] - c * h[6]) / times,
      (h[1] - c * h[7]) / times,
      (h[2] - c) / times,
      (h[3] - r * h[6]) / times,
      (h[4] - r * h[7]) / times,
      (h[5] - r) / times,
      h[6],
      h[7],
    ],
  };
}
