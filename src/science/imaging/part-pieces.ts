/** From one part to its pieces: colours told apart, shadows left out, fibres followed, necks cut. */
import { distanceInside } from './distance.ts';
import { isThread, threadsOffBodies } from './fibres-in-part.ts';
import { settleHoles } from './holes.ts';
import { takeBytes } from './kernels/room.ts';
import type { PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import type { Part } from './part.ts';
import type { Piece } from './piece.ts';
import { pieceFrom } from './piece-look.ts';
import { withoutShadow } from './shadow.ts';
import { fibreWays } from './skeleton-graph.ts';
import { splitColours } from './split-colours.ts';
import { splitTouching } from './touching-pieces.ts';

/** Pieces of one part. */
export function piecesOf(part: Part, rows: PhotoRows, membrane: Membrane): Piece[] {
  const { width, height, whose } = part;
  const mask = takeBytes(whose.length).fill(0);
  for (let i = 0; i < mask.length; i++) if (whose[i] === 1) mask[i] = 1;
  if (settleHoles(part, mask)) return [];
  const lit = withoutShadow(part, mask);
  if (lit) return shapedPieces(aloneIn(part, lit), lit, distanceInside(lit, width, height), rows, membrane);
  const distance = distanceInside(mask, width, height);
  const { thick } = extent(mask, distance);
  if (thick < FIBRE_HALF) return shapedPieces(part, mask, distance, rows, membrane);
  const colours = splitColours(mask, part, width, height, distance);
  if (colours.count < 2) return shapedPieces(part, mask, distance, rows, membrane);
  const pieces: Piece[] = [];
  for (let k = 1; k <= colours.count; k++) {
    const mine = takeBytes(mask.length).fill(0);
    for (let i = 0; i < mine.length; i++) if (colours.label[i] === k) mine[i] = 1;
    pieces.push(
      ...shapedPieces(aloneIn(part, mine), mine, distanceInside(mine, width, height), rows, membrane),
    );
  }
  return pieces;
}

/** The part with everything but `mine` given to others. */
function aloneIn(part: Part, mine: Uint8Array): Part {
  const whose = takeBytes(mine.length);
  for (let i = 0; i < whose.length; i++) {
    const w = part.whose[i]!;
    whose[i] = w === 1 && !mine[i] ? 2 : w;
  }
  return { ...part, whose };
}

/** Half widths below this are fibres': crossings of them are told apart along their lines, not by colour. */
const FIBRE_HALF = 3.5;

/** Pieces of one colour, by their shape: fibres, bodies, or both. */
function shapedPieces(
  part: Part,
  mask: Uint8Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): Piece[] {
  const { width, height } = part;
  const { size, thick } = extent(mask, distance);
  if (isThread(size, thick)) return threadPieces(part, mask, distance, rows, membrane);
  const mixed = threadsOffBodies(mask, distance, width, height);
  if (!mixed) return bodyPieces(part, mask, distance, rows, membrane);
  const inBodies = distanceInside(mixed.bodies, width, height);
  return [
    ...bodyPieces(part, mixed.bodies, inBodies, rows, membrane),
    ...mixed.threads.flatMap((t) => threadPieces(part, t, distanceInside(t, width, height), rows, membrane)),
  ];
}

function extent(mask: Uint8Array, distance: Float32Array): { size: number; thick: number } {
  let size = 0;
  let thick = 0;
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    size++;
    if (distance[i]! > thick) thick = distance[i]!;
  }
  return { size, thick };
}

function bodyPieces(
  part: Part,
  mask: Uint8Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): Piece[] {
  const split = splitTouching(mask, part.width, part.height, distance);
  if (split.count > 1) byColour(split, part);
  const pieces: Piece[] = [];
  for (let s = 1; s <= split.count; s++) {
    const whole = split.count === 1 ? distance : null;
    const piece = pieceFrom(part, split.label, s, null, whole, rows, membrane);
    if (piece) pieces.push(piece);
  }
  return pieces;
}

/** Parts of different colour get labels of their own. */
function byColour(split: { label: Int32Array; count: number }, part: Part): void {
  const { width, height } = part;
  const found = split.count;
  for (let s = 1; s <= found; s++) {
    const own = takeBytes(split.label.length).fill(0);
    let size = 0;
    for (let i = 0; i < own.length; i++) {
      if (split.label[i] !== s) continue;
      own[i] = 1;
      size++;
    }
    if (size < 40) continue;
    const parts = splitColours(own, part, width, height);
    if (parts.count < 2) continue;
    for (let i = 0; i < own.length; i++) {
      if (parts.label[i]! > 1) split.label[i] = split.count + parts.label[i]! - 1;
    }
    split.count += parts.count - 1;
  }
}

/** One fibre, or the fibres of a crossing, each along its own way. */
function threadPieces(
  part: Part,
  mask: Uint8Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): Piece[] {
  const { width, height } = part;
  const { size, thick } = extent(mask, distance);
  const ways = fibreWays(mask, distance, width, height).filter((w) => w.length > Math.max(4, 2 * thick));
  if (ways.length <= 1) {
    const piece = pieceFrom(part, new Int32Array(mask), 1, ways[0] ?? null, distance, rows, membrane);
    return piece ? [piece] : [];
  }
  const whole = ways.reduce((n, w) => n + w.length, 0);
  // Each pixel goes to the way that passes nearest.
  const label = nearestWay(mask, ways, width, height);
  const half = Math.max(0.5, (0.5 * size) / whole);
  const pieces: Piece[] = [];
  for (let k = 0; k < ways.length; k++) {
    const piece = pieceFrom(part, label, k + 1, ways[k]!, null, rows, membrane, half);
    if (piece) pieces.push(piece);
  }
  return pieces;
}

function nearestWay(mask: Uint8Array, ways: readonly number[][], width: number, height: number): Int32Array {
  const label = new Int32Array(mask.length);
  let front: number[] = [];
  ways.forEach((way, k) => {
    for (const i of way) {
      if (label[i]) continue;
      label[i] = k + 1;
      front.push(i);
    }
  });
  while (front.length) {
    const next: number[] = [];
    for (const i of front) {
      const x = i % width;
      const y = (i - x) / width;
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
          const j = v * width + u;
          if (mask[j] && !label[j]) {
            label[j] = label[i]!;
            next.push(j);
          }
        }
      }
    }
    front = next;
  }
  return label;
}
