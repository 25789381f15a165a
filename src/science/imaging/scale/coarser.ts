/** Guards against taking half or a third of the pitch for the pitch: such a lattice has lines without any ink. */
import { type LatticeMap, mapToGrid } from './lattice.ts';
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

/**
 * Lines that should show ink, because the lines that cross them do so on both sides of them, and show next to none; in
 * the direction that has more of them, against the lines that do show. Print that makes oblongs leaves such lines.
 */
export function emptyShare(map: LatticeMap, pieces: readonly SeenPiece[]): number {
  const inked = new Set<string>();
  const places = pieces.map((s) => {
    const grid = mapToGrid(map, s.piece.x, s.piece.y);
    const along = grid[s.piece.runs === 'column' ? 1 : 0]!;
    // The half-pitch stretch of its line in which the piece lies: 2·along, rounded down.
    const key = `${s.piece.runs} ${s.piece.index} ${Math.floor(2 * along)}`;
    if (s.inked) inked.add(key);
    return along;
  });
  const lines = new Map<string, { runs: 'column' | 'row'; expected: number; seen: number }>();
  pieces.forEach((s, i) => {
    const { runs, index } = s.piece;
    const other = runs === 'column' ? 'row' : 'column';
    const near = Math.round(places[i]!);
    const stretch = (side: 0 | 1) => `${other} ${near} ${2 * index - 1 + side}`;
    const crossed = inked.has(stretch(0)) && inked.has(stretch(1));
    const line = lines.get(`${runs} ${index}`) ?? { runs, expected: 0, seen: 0 };
    if (crossed) {
      line.expected++;
      if (s.inked) line.seen++;
    }
    lines.set(`${runs} ${index}`, line);
  });
  let worst = 0;
  for (const runs of ['column', 'row']) {
    const own = [...lines.values()].filter((l) => l.runs === runs && l.expected >= 2);
    const empty = own.filter((l) => l.seen < 0.2 * l.expected).length;
    if (own.length > 0) worst = Math.max(worst, empty / own.length);
  }
  return worst;
}

/**
 * How much the ink of each line comes and goes from one square to the next: mean difference, over all lines, between
 * the inked shares along even and along odd squares. Near 1 for walls of bricks, near 0 for squares.
 */
export function alternation(map: LatticeMap, pieces: readonly SeenPiece[]): number {
  const lines = new Map<string, { runs: 'column' | 'row'; all: [number, number]; inked: [number, number] }>();
  for (const { piece, inked } of pieces) {
    const along = mapToGrid(map, piece.x, piece.y)[piece.runs === 'column' ? 1 : 0]!;
    const odd = Math.abs(Math.floor(along)) % 2 === 1 ? 1 : 0;
    const key = `${piece.runs} ${piece.index}`;
    const line = lines.get(key) ?? { runs: piece.runs, all: [0, 0], inked: [0, 0] };
    line.all[odd]++;
    if (inked) line.inked[odd]++;
    lines.set(key, line);
  }
  let worst = 0;
  for (const runs of ['column', 'row']) {
    const own = [...lines.values()].filter((l) => l.runs === runs && Math.min(...l.all) >= 3);
    if (own.length < 3) continue;
    const apart = own.map((l) => Math.abs(l.inked[0] / l.all[0] - l.inked[1] / l.all[1]));
    worst = Math.max(worst, apart.reduce((s, v) => s + v, 0) / own.length);
  }
  return worst;
}
