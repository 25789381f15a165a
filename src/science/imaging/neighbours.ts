/** What lies right beside a piece: parts, haloes and compression live in the neighbourhood of something larger. */
import { type Body, bodyOf, fromLeft } from './contact.ts';
import type { Point } from './finding.ts';
import type { Beside, Piece } from './piece.ts';

/** Gap at which a neighbour counts a third, px; beyond three times of it none does. */
const REACH = 12;

/** Pieces with what is told of their nearest larger neighbour. */
export function withNeighbours(pieces: readonly Piece[]): Piece[] {
  const bodies = pieces.map(bodyOf);
  const order = fromLeft(bodies);
  const chunks: (Float64Array | undefined)[] = [];
  const gap = new Float64Array(pieces.length).fill(3 * REACH);
  const whose = new Int32Array(pieces.length).fill(-1);
  for (let u = 0; u < order.length; u++) {
    const i = order[u]!;
    for (let v = u + 1; v < order.length; v++) {
      const k = order[v]!;
      if (bodies[k]!.box[0] > bodies[i]!.box[2] + 3 * REACH) break;
      const [small, large] = bodies[i]!.area <= bodies[k]!.area ? [i, k] : [k, i];
      chunks[large] ??= chunkBoxes(bodies[large]!.outline);
      const d = gapBetween(bodies[small]!, bodies[large]!, chunks[large], gap[small]!);
      if (d >= gap[small]!) continue;
      gap[small] = d;
      whose[small] = large;
    }
  }
  return pieces.map((piece, i) => {
    const other = whose[i]! < 0 ? null : pieces[whose[i]!]!;
    if (!other) return piece;
    return { ...piece, beside: besideOf(piece, other, gap[i]!) };
  });
}

/** Contrasts below this tell nothing more, as parts of the membrane's white. */
const LEAST = 0.003;

function besideOf(piece: Piece, larger: Piece, gap: number): Beside {
  const ratio = Math.max(LEAST, piece.contrast) / Math.max(LEAST, larger.contrast);
  return {
    nearness: Math.exp(-gap / REACH),
    fainter: Math.exp((-2 * gap) / REACH) * Math.min(0, Math.log(ratio)),
  };
}

/** Points of an outline that share a box. */
const CHUNK = 16;

/** Boxes around each CHUNK points of an outline, four numbers a box: least and most x, least and most y. */
function chunkBoxes(outline: readonly Point[]): Float64Array {
  const boxes = new Float64Array(4 * Math.ceil(outline.length / CHUNK));
  for (let k = 0; k < outline.length; k++) {
    const at = 4 * Math.floor(k / CHUNK);
    const p = outline[k]!;
    const first = k % CHUNK === 0;
    if (first || p[0] < boxes[at]!) boxes[at] = p[0];
    if (first || p[0] > boxes[at + 1]!) boxes[at + 1] = p[0];
    if (first || p[1] < boxes[at + 2]!) boxes[at + 2] = p[1];
    if (first || p[1] > boxes[at + 3]!) boxes[at + 3] = p[1];
  }
  return boxes;
}

/** Gap between two outlines, px, as far as it is below `limit`; `chunks` are the boxes of b's. */
function gapBetween(a: Body, b: Body, chunks: Float64Array, limit: number): number {
  const dx = Math.max(a.box[0] - b.box[2], b.box[0] - a.box[2], 0);
  const dy = Math.max(a.box[1] - b.box[3], b.box[1] - a.box[3], 0);
  if (Math.hypot(dx, dy) >= limit) return limit;
  let least = limit * limit;
  for (let i = 0; i < a.outline.length; i += 2) {
    const x = a.outline[i]![0];
    const y = a.outline[i]![1];
    // No point of an outline is nearer than the box around it, or around its part.
    const px = Math.max(x - b.box[2], b.box[0] - x, 0);
    const py = Math.max(y - b.box[3], b.box[1] - y, 0);
    if (px * px + py * py >= least) continue;
    for (let c = 0; c < chunks.length; c += 4) {
      const cx = Math.max(x - chunks[c + 1]!, chunks[c]! - x, 0);
      const cy = Math.max(y - chunks[c + 3]!, chunks[c + 2]! - y, 0);
      if (cx * cx + cy * cy >= least) continue;
      const end = Math.min(b.outline.length, (c / 4 + 1) * CHUNK);
      for (let k = (c / 4) * CHUNK; k < end; k++) {
        const q = b.outline[k]!;
        const d = (q[0] - x) ** 2 + (q[1] - y) ** 2;
        if (d < least) least = d;
      }
    }
  }
  return Math.sqrt(least);
}
