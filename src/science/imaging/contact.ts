/** How two pieces meet: what tells two halves of one piece from two pieces that touch. */
import { convexHull } from './feret.ts';
import type { Point } from './finding.ts';
import { insideLine, lengthOf, lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import type { HiddenPlaces } from './under-print.ts';

/** Outlines that come closer than this, px, meet. */
export const MEETING = 3.5;

/** An outline with what is asked of it again and again. */
export interface Body {
  readonly piece: Piece;
  readonly outline: readonly Point[];
  readonly box: readonly [x0: number, y0: number, x1: number, y1: number];
  readonly area: number;
  readonly hullArea: number;
}

export function bodyOf(piece: Piece): Body {
  const { outline } = piece;
  let [x0, y0, x1, y1] = [1e9, 1e9, -1e9, -1e9];
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  let hullArea: number | null = null;
  return {
    piece,
    outline,
    box: [x0, y0, x1, y1],
    area: Math.abs(lineArea(outline)),
    // Few pieces meet another: the others' hulls are never asked for.
    get hullArea() {
      hullArea ??= Math.abs(lineArea(convexHull(outline)));
      return hullArea;
    },
  };
}

/** Numbers of the bodies, those that begin farther left first. */
export const fromLeft = (bodies: readonly Body[]): number[] =>
  bodies
    .map(({ box }, i) => [box[0], i] as const)
    .sort((p, q) => p[0] - q[0] || p[1] - q[1])
    .map(([, i]) => i);

/** Signs of whether two pieces that meet are parts of one; `small` and `large` by area. */
export interface Contact {
  /** Share of the smaller outline that meets the larger or lies within it. */
  readonly share: number;
  /** Share of the smaller outline that lies within the larger. */
  readonly inside: number;
  /** Colours apart (CIELAB) in hundreds, at most 1. */
  readonly colour: number;
  /** Share of the meeting under or at the rim of print. */
  readonly print: number;
  /** How much less the two fill their common hull than each fills its own: a corner between them. */
  readonly hollow: number;
  /** ln of the greater contrast. */
  readonly plain: number;
  /** Half of how many of them are lines. */
  readonly lines: number;
  /** 1 where more than half of the outline lies on print. */
  readonly smallOnPrint: number;
  readonly largeOnPrint: number;
  /** Colours apart where the meeting is on print, whose ink changes them. */
  readonly printedColour: number;
}

const apart = (a: Body, b: Body, gap: number): boolean =>
  a.box[0] > b.box[2] + gap ||
  b.box[0] > a.box[2] + gap ||
  a.box[1] > b.box[3] + gap ||
  b.box[1] > a.box[3] + gap;

function anyWithin(points: readonly Point[], x: number, y: number, reach: number): boolean {
  for (const p of points) {
    const dx = p[0] - x;
    const dy = p[1] - y;
    if (dx * dx + dy * dy <= reach * reach) return true;
  }
  return false;
}

/** Null where the two do not meet. */
export function contactOf(p: Body, q: Body, hidden: HiddenPlaces): Contact | null {
  if (apart(p, q, MEETING)) return null;
  const [small, large] = p.area <= q.area ? [p, q] : [q, p];
  const near: Point[] = [];
  for (let i = 0; i < large.outline.length; i++) {
    const p = large.outline[i]!;
    if (
      p[0] >= small.box[0] - MEETING &&
      p[0] <= small.box[2] + MEETING &&
      p[1] >= small.box[1] - MEETING &&
      p[1] <= small.box[3] + MEETING
    )
      near.push(p);
  }
  const { outline } = small;
  const n = outline.length;
  let whole = 0;
  let met = 0;
  let within = 0;
  let printed = 0;
  for (let i = 0; i < n; i++) {
    const [x, y] = outline[i]!;
    const [ax, ay] = outline[(i + n - 1) % n]!;
    const [bx, by] = outline[(i + 1) % n]!;
    const length = 0.5 * lengthOf(bx - ax, by - ay);
    whole += length;
    const deep =
      x > large.box[0] &&
      x < large.box[2] &&
      y > large.box[1] &&
      y < large.box[3] &&
      insideLine(large.outline, x, y);
    if (deep) within += length;
    if (!deep && !anyWithin(near, x, y, MEETING)) continue;
    met += length;
    if (nearHidden(hidden, x, y)) printed += length;
  }
  if (met === 0) return null;
  const a = small.piece;
  const b = large.piece;
  const hull = Math.abs(lineArea(convexHull([...small.outline, ...large.outline])));
  const own = (small.area + large.area) / Math.max(1, small.hullArea + large.hullArea);
  const common = (small.area + large.area) / Math.max(1, hull);
  const colour = Math.min(1, Math.hypot(a.lab[0] - b.lab[0], a.lab[1] - b.lab[1], a.lab[2] - b.lab[2]) / 100);
  const print = printed / met;
  return {
    share: met / whole,
    inside: within / whole,
    colour,
    print,
    hollow: own - common,
    plain: Math.log(Math.max(1e-3, a.contrast, b.contrast)),
    lines: ((a.line ? 1 : 0) + (b.line ? 1 : 0)) / 2,
    smallOnPrint: a.evidence.onPrint > 0.5 ? 1 : 0,
    largeOnPrint: b.evidence.onPrint > 0.5 ? 1 : 0,
    printedColour: colour * print,
  };
}

/** Within this many px of print its rim may lie. */
const RIM = 3;

const nearHidden = (hidden: HiddenPlaces, x: number, y: number): boolean =>
  hidden.holds(x, y) ||
  hidden.holds(x - RIM, y) ||
  hidden.holds(x + RIM, y) ||
  hidden.holds(x, y - RIM) ||
  hidden.holds(x, y + RIM);
