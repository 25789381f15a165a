/**
 * Short remainders of fibres. Where a fibre runs under print, or fades, bits of it are found that are too short to be
 * followed as a line. A bit that lies on the fibre, or right ahead of its end, no broader than the fibre allows, is taken in.
 */
import type { Point } from './finding.ts';
import { wayLength } from './middle-line.ts';
import { lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { ribbon } from './ribbon.ts';
import type { HiddenPlaces } from './under-print.ts';

/** Beside the line, px beyond half of the width; and for each px ahead of the end, since fibres bend. */
const BESIDE = 2.5;
const FAN = 0.3;
/** A remainder is at most this many widths and px long. */
const LONGEST_WIDTHS = 5;
const LONGEST = 14;
const SAME_COLOUR = 40;

interface Bit {
  readonly index: number;
  readonly outline: readonly Point[];
  readonly size: number;
}

/** Pieces with the remainders taken in; `hidden` tells whether a place lies under print, whose lines are `breadth` px broad. */
export function takeInRemainders(pieces: readonly Piece[], hidden: HiddenPlaces, breadth: number): Piece[] {
  const out: (Piece | null)[] = pieces.slice();
  const bits: Bit[] = pieces.flatMap((p, index) =>
    p.line ? [] : [{ index, outline: p.outline, size: sizeOf(p.outline) }],
  );
  pieces.forEach((fibre, f) => {
    if (!fibre.line || !fibre.lineWidth) return;
    let line: readonly Point[] = fibre.line;
    const width = fibre.lineWidth;
    const length = wayLength(line);
    if (length < 5 * width) return;
    const near = boxAround(line, breadth * 1.5 + LONGEST + LONGEST_WIDTHS * width);
    const mine = bits.filter(
      ({ index, outline, size }) =>
        out[index] !== null &&
        size <= LONGEST + LONGEST_WIDTHS * width &&
        size < 0.6 * length &&
        inBox(outline[0]!, near) &&
        sameStuff(pieces[index]!, fibre),
    );
    if (mine.length === 0) return;
    for (const turned of [false, true]) {
      if (turned) line = line.toReversed();
      for (let again = 0; again < 4; again++) {
        const reach = (x: number, y: number) =>
          hidden.holds(x, y) ? Math.max(12, 1.4 * breadth) : 4 * width + 5;
        const next = mine
          .filter(({ index }) => out[index] !== null)
          .map((bit) => ({ bit, tip: tipAhead(line, width, bit.outline, reach) }))
          .filter((n) => n.tip !== null)
          .sort((a, b) => a.tip!.from - b.tip!.from)[0];
        if (!next) break;
        line = [...line, ...next.tip!.points];
        out[next.bit.index] = null;
      }
      if (turned) line = line.toReversed();
    }
    for (const { index, outline } of mine) {
      if (out[index] !== null && liesOn(line, outline, width / 2 + BESIDE)) out[index] = null;
    }
    if (line.length > fibre.line.length) {
      const outline = ribbon(line, width / 2);
      if (lineArea(outline) < 0) outline.reverse();
      out[f] = { ...fibre, line, outline };
    }
  });
  return out.filter((p) => p !== null);
}

/** Print mixes into the colour of what lies on it: there place and breadth alone must do. */
const sameStuff = (bit: Piece, fibre: Piece): boolean =>
  bit.evidence.onPrint > 0.3 ||
  Math.hypot(bit.lab[0] - fibre.lab[0], bit.lab[1] - fibre.lab[1], bit.lab[2] - fibre.lab[2]) < SAME_COLOUR;

/** Points that lead the line on through an outline ahead of its last end, and how far off it begins; null when it isn't ahead. */
function tipAhead(
  line: readonly Point[],
  width: number,
  outline: readonly Point[],
  reach: (x: number, y: number) => number,
): { from: number; points: Point[] } | null {
  const n = line.length;
  const [ex, ey] = line[n - 1]!;
  const [sx, sy] = line[Math.max(0, n - 9)]!;
  const d = Math.hypot(ex - sx, ey - sy);
  if (!(d > 0)) return null;
  const ux = (ex - sx) / d;
  const uy = (ey - sy) / d;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let fits = 0;
  let left = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!;
    const t = (p[0] - ex) * ux + (p[1] - ey) * uy;
    const s = (p[1] - ey) * ux - (p[0] - ex) * uy;
    from = Math.min(from, t);
    to = Math.max(to, t);
    left = Math.min(left, s);
    right = Math.max(right, s);
    if (t > -width - 3 && Math.abs(s) <= width / 2 + BESIDE + FAN * Math.max(0, t)) fits++;
  }
  if (fits < 0.85 * outline.length || to < 1) return null;
  if (right - left > 2.2 * width + 5) return null;
  const midX = ex + (ux * from) / 2;
  const midY = ey + (uy * from) / 2;
  if (from > Math.max(reach(midX, midY), reach(ex, ey))) return null;
  // Where its far part lies across.
  const far = to - Math.max(2, 0.3 * (to - from));
  let sum = 0;
  let count = 0;
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!;
    if ((p[0] - ex) * ux + (p[1] - ey) * uy < far) continue;
    sum += (p[1] - ey) * ux - (p[0] - ex) * uy;
    count++;
  }
  const tipAcross = sum / count;
  return { from, points: [[ex + to * ux - tipAcross * uy, ey + to * uy + tipAcross * ux]] };
}

function liesOn(line: readonly Point[], outline: readonly Point[], reach: number): boolean {
  let on = 0;
  for (let i = 0; i < outline.length; i++) if (nearLine(line, outline[i]![0], outline[i]![1], reach)) on++;
  return on >= 0.85 * outline.length;
}

function nearLine(line: readonly Point[], x: number, y: number, reach: number): boolean {
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const dx = line[i]![0] - ax;
    const dy = line[i]![1] - ay;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    const u = x - ax - t * dx;
    const v = y - ay - t * dy;
    if (u * u + v * v <= reach * reach) return true;
  }
  return false;
}

function sizeOf(outline: readonly Point[]): number {
  const [x0, y0, x1, y1] = boxAround(outline, 0);
  return Math.hypot(x1 - x0, y1 - y0);
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxAround(points: readonly Point[], room: number): Box {
  let [x0, y0, x1, y1] = [1e9, 1e9, -1e9, -1e9];
  for (const [x, y] of points) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return [x0 - room, y0 - room, x1 + room, y1 + room];
}

const inBox = ([x, y]: Point, b: Box): boolean => x >= b[0] && x <= b[2] && y >= b[1] && y <= b[3];
