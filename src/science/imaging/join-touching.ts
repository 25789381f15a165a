/**
 * Pieces that meet, joined where they are more likely two parts of one than two pieces that touch: parts meet along
 * much of their rim, alike in colour, often where print begins; pieces meet at a spot, with a corner between them.
 */
import { rootOf } from './connected.ts';
import { type Body, bodyOf, type Contact, contactOf, fromLeft, MEETING } from './contact.ts';
import type { Point } from './finding.ts';
import { lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { mergeOutlines } from './redraw.ts';
import type { HiddenPlaces } from './under-print.ts';

/**
 * Weights of a logistic law, fitted by `npx tsx test/photos/fit-joining.ts` to every meeting on the drawn ordinary and
 * hard sets (tuned and fitting seeds) and the drawn example, where it is known what belongs together.
 */
export const JOINING = {
  offset: -3.8,
  weights: {
    share: 2.78,
    colour: -2.62,
    print: 1.79,
    hollow: -1.24,
    plain: -1.48,
    lines: 1.35,
    smallOnPrint: 1.08,
    largeOnPrint: 1.25,
    printedColour: 0.75,
  },
} as const satisfies { offset: number; weights: Record<JoiningSign, number> };

/** What the law weighs. */
export type JoiningSign = Exclude<keyof Contact, 'inside'>;

/** A join needs this chance: a wrong one loses a piece, a missing one adds a part. */
const ENOUGH = 0.65;

/** Two pieces cannot fill one place: what lies within another by this share is a part of it. */
const WITHIN = 0.7;

/** Chance that two pieces that meet are parts of one, where neither lies within the other. */
export function chanceSame(contact: Contact): number {
  let odds: number = JOINING.offset;
  for (const [name, weight] of Object.entries(JOINING.weights)) odds += weight * contact[name as JoiningSign];
  return 1 / (1 + Math.exp(-odds));
}

/** Pieces with the parts of one piece put together; `hidden` tells whether a place lies under print. */
export function joinTouching(pieces: readonly Piece[], hidden: HiddenPlaces): Piece[] {
  const bodies = pieces.map(bodyOf);
  const group = pieces.map((_, i) => i);
  const order = fromLeft(bodies);
  for (let u = 0; u < order.length; u++) {
    const a = bodies[order[u]!]!;
    for (let v = u + 1; v < order.length; v++) {
      const b = bodies[order[v]!]!;
      if (b.box[0] > a.box[2] + MEETING) break;
      const contact = contactOf(a, b, hidden);
      if (contact && (contact.inside >= WITHIN || chanceSame(contact) >= ENOUGH))
        group[rootOf(group, order[v]!)] = rootOf(group, order[u]!);
    }
  }
  const members = new Map<number, Body[]>();
  bodies.forEach((body, i) => {
    const r = rootOf(group, i);
    members.set(r, [...(members.get(r) ?? []), body]);
  });
  return [...members.values()].map(together);
}

/** Where one part is nearly all, its middle line is the whole's. */
const NEARLY_ALL = 0.7;
/** Slits between parts up to this broad are closed, px. */
const SLIT = 4;

/** One piece; its look is that of the largest part beside the print, which the ink has not changed. */
function together(parts: readonly Body[]): Piece {
  if (parts.length === 1) return parts[0]!.piece;
  const whole = parts.reduce((s, p) => s + p.area, 0);
  const open = ({ area, piece }: Body) => area * (1.01 - piece.evidence.onPrint);
  const look = parts.reduce((p, q) => (open(q) > open(p) ? q : p)).piece;
  const largest = parts.reduce((p, q) => (q.area > p.area ? q : p));
  const outline = commonOutline(parts) ?? largest.outline.slice();
  const keepsLine = largest.area >= NEARLY_ALL * whole;
  const most = (pick: (p: Piece) => number) => Math.max(...parts.map((p) => pick(p.piece)));
  const mean = (pick: (p: Piece) => number) =>
    parts.reduce((s, p) => s + (pick(p.piece) * p.area) / whole, 0);
  if (lineArea(outline) < 0) outline.reverse();
  return {
    ...look,
    outline,
    line: keepsLine ? largest.piece.line : null,
    lineWidth: keepsLine ? largest.piece.lineWidth : null,
    touchesFrame: parts.some((p) => p.piece.touchesFrame),
    evidence: {
      lightness: most((p) => p.evidence.lightness),
      colour: most((p) => p.evidence.colour),
      ridge: keepsLine ? largest.piece.evidence.ridge : 0,
      sharpness: mean((p) => p.evidence.sharpness),
      onPrint: mean((p) => p.evidence.onPrint),
    },
  };
}

/** Null where slivers too thin to be drawn are all that holds the parts together. */
function commonOutline(parts: readonly Body[]): Point[] | null {
  try {
    return mergeOutlines(
      parts.map((p) => p.outline),
      SLIT,
    );
  } catch (problem) {
    if (problem instanceof RangeError) return null;
    throw problem;
  }
}
