/** Guards against taking half or a third of the pitch for the pitch: such a lattice has lines without any ink. */
import type { LatticeMap } from './lattice.ts';
import type { SeenPiece } from './sight.ts';

/** A line with its pieces counted. */
export interface LineCount {
  readonly runs: 'column' | 'row';
  readonly index: number;
  readonly all: number;
  readonly inked: number;
}

export function countLines(pieces: readonly SeenPiece[]): LineCount[] {
  const lines = new Map<string, { runs: 'column' | 'row'; index: number; all: number; inked: number }>();
  for (const { piece, inked } of pieces) {
    const key = `${piece.runs} ${piece.index}`;
    const line = lines.get(key) ?? { runs: piece.runs, index: piece.index, all: 0, inked: 0 };
    line.all++;
    if (inked) line.inked++;
    lines.set(key, line);
  }
  return [...lines.values()];
}

/** A line counts as printed when at least this share of its pieces, and of what well-printed lines show, is inked. */
export function printed(lines: readonly LineCount[]): LineCount[] {
  const long = lines.filter((l) => l.all >= 3);
  const shares = long.map((l) => l.inked / l.all).sort((a, b) => b - a);
  const well = shares[Math.floor(shares.length / 6)] ?? 0;
  return long.filter((l) => l.inked / l.all >= Math.max(0.1, 0.3 * well));
}

/** Lines off the coarser lattice must show less than this share of what lines on it show (project choice). */
const EMPTY = 0.35;

/** Which lines of one direction a lattice `times` as coarse would keep: the remainder with the most ink. */
function keeper(lines: readonly LineCount[], times: number): { rest: number; on: number[]; off: number[] } {
  let best = { rest: 0, on: [0, 0], off: [0, 0] };
  for (let rest = 0; rest < times; rest++) {
    const on = [0, 0];
    const off = [0, 0];
    for (const l of lines) {
      const side = (((l.index - rest) % times) + times) % times === 0 ? on : off;
      side[0]! += l.inked;
      side[1]! += l.all;
    }
    if (on[0]! > best.on[0]!) best = { rest, on, off };
  }
  return best;
}

/** The map whose pitch is the widest that still puts a line on all ink; the same map when that is its own. */
export function coarsest(map: LatticeMap, pieces: readonly SeenPiece[]): LatticeMap {
  const lines = countLines(pieces);
  for (const times of [3, 2]) {
    const c = keeper(
      lines.filter((l) => l.runs === 'column'),
      times,
    );
    const r = keeper(
      lines.filter((l) => l.runs === 'row'),
      times,
    );
    if (c.off[1] === 0 || r.off[1] === 0) continue;
    const share = (s: readonly number[]) => s[0]! / Math.max(1, s[1]!);
    if (share(c.off) > EMPTY * share(c.on) || share(r.off) > EMPTY * share(r.on)) continue;
    const h = map.plane;
    return {
      ...map,
      plane: [
        (h[0] - c.rest * h[6]) / times,
        (h[1] - c.rest * h[7]) / times,
        (h[2] - c.rest) / times,
        (h[3] - r.rest * h[6]) / times,
        (h[4] - r.rest * h[7]) / times,
        (h[5] - r.rest) / times,
        h[6],
        h[7],
      ],
    };
  }
  return map;
}
