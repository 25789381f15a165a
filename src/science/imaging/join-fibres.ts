/** Fibres that the print or a faint stretch has broken, joined end to end. */

import { takeInRemainders } from './fibre-remainders.ts';
import type { Point } from './finding.ts';
import { wayLength } from './middle-line.ts';
import { lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { ribbon } from './ribbon.ts';
import type { HiddenPlaces } from './under-print.ts';

interface End {
  readonly piece: number;
  readonly atStart: boolean;
  readonly at: Point;
  /** Unit direction out of the fibre. */
  readonly out: Point;
}

interface Link {
  readonly a: End;
  readonly b: End;
  readonly cost: number;
}

function endsOf(piece: Piece, index: number): End[] {
  const line = piece.line!;
  const reach = Math.min(line.length - 1, 10);
  const from = (i: number, j: number): Point => {
    const dx = line[i]![0] - line[j]![0];
    const dy = line[i]![1] - line[j]![1];
    const d = Math.hypot(dx, dy) || 1;
    return [dx / d, dy / d];
  };
  const n = line.length;
  return [
    { piece: index, atStart: true, at: line[0]!, out: from(0, reach) },
    { piece: index, atStart: false, at: line[n - 1]!, out: from(n - 1, n - 1 - reach) },
  ];
}

/** A fibre fades, but hardly to less than this part of its contrast (project choice). */
const FADED = 0.2;

/** Of like width, contrast and colour; print mixes into the colour of what lies on it, so there the others must do. */
const alike = (a: Piece, b: Piece, covered: boolean): boolean => {
  const ratio = a.lineWidth! / b.lineWidth!;
  if (ratio < 0.35 || ratio > 2.9) return false;
  if (Math.min(a.contrast, b.contrast) < FADED * Math.max(a.contrast, b.contrast)) return false;
  const apart = Math.hypot(a.lab[0] - b.lab[0], a.lab[1] - b.lab[1], a.lab[2] - b.lab[2]);
  return covered || apart < 45;
};

/** Joins thin pieces, takes in the short remainders at and beside their ends, and joins once more across those. */
export function joinFibres(pieces: readonly Piece[], hidden: HiddenPlaces, breadth: number): Piece[] {
  const joined = joinEnds(pieces, hidden, breadth);
  const fuller = takeInRemainders(joined, hidden, breadth);
  return fuller.length < joined.length ? joinEnds(fuller, hidden, breadth) : joined;
}

/**
 * Joins thin pieces whose ends face each other. `hidden` tells whether a place lies under print, across which a gap may
 * be as long as the print is broad (`breadth` px, taken slantwise); elsewhere it may be a few widths.
 */
function joinEnds(pieces: readonly Piece[], hidden: HiddenPlaces, breadth: number): Piece[] {
  const thin = pieces.flatMap((p, i) => (p.line && p.lineWidth ? [i] : []));
  const ends = thin.flatMap((i) => endsOf(pieces[i]!, i));
  const widest = Math.min(12, Math.max(0, ...thin.map((i) => pieces[i]!.lineWidth!)));
  const reach = Math.max(openGap(widest), 3.5 * breadth + 8);
  const buckets = new Map<string, End[]>();
  const cell = (v: number) => Math.floor(v / reach);
  for (const e of ends) {
    const key = `${cell(e.at[0])},${cell(e.at[1])}`;
    const own = buckets.get(key);
    if (own) own.push(e);
    else buckets.set(key, [e]);
  }
  const links: Link[] = [];
  for (const a of ends) {
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        for (const b of buckets.get(`${cell(a.at[0]) + dx},${cell(a.at[1]) + dy}`) ?? []) {
          if (b.piece <= a.piece) continue;
          const cost = linkCost(a, b, pieces[a.piece]!, pieces[b.piece]!, hidden, reach);
          if (cost !== null) links.push({ a, b, cost });
        }
      }
    }
  }
  links.sort((p, q) => p.cost - q.cost);
  /** Chains of pieces, each with whether it runs backwards. */
  const chainOf = new Map<number, { piece: number; back: boolean }[]>();
  for (const i of thin) chainOf.set(i, [{ piece: i, back: false }]);
  const used = new Set<End>();
  for (const { a, b } of links) {
    if (used.has(a) || used.has(b)) continue;
    let first = chainOf.get(a.piece)!;
    let second = chainOf.get(b.piece)!;
    if (first === second) continue;
    used.add(a);
    used.add(b);
    // Turn the first so that it ends in a, the second so that it begins with b.
    const turn = (c: { piece: number; back: boolean }[]) =>
      c.toReversed().map((l) => ({ ...l, back: !l.back }));
    const tail = first[first.length - 1]!;
    if (!(tail.piece === a.piece && tail.back === a.atStart)) first = turn(first);
    const head = second[0]!;
    if (!(head.piece === b.piece && head.back !== b.atStart)) second = turn(second);
    const whole = [...first, ...second];
    for (const l of whole) chainOf.set(l.piece, whole);
  }
  const out: Piece[] = [];
  const done = new Set<object>();
  pieces.forEach((piece, i) => {
    const chain = chainOf.get(i);
    if (!chain || chain.length === 1) {
      out.push(piece);
      return;
    }
    if (done.has(chain)) return;
    done.add(chain);
    out.push(oneOf(chain.map((l) => ({ piece: pieces[l.piece]!, back: l.back }))));
  });
  return out;
}

/** Longest gap in the open, px, for fibres of a width (project choice). */
const openGap = (width: number): number => 6 * width + 6;

/** What bends may be bridged, in radians (project choices; a fibre of drawn sets bends by at most one width or so). */
const BEND = {
  /** Both turns together where the ends all but touch: nothing else can lie between. */
  touching: 1.9,
  /** Across a gap in the open, both turns together. */
  open: 0.85,
  /** Across print, which hides what the fibre does there. */
  covered: 1.25,
  /** Ends that turn the same way by as much lie on one bow: so much more is allowed. */
  bow: 0.6,
} as const;

/**
 * Cost of one fibre going on from end a to end b, px, or null. A gap costs its length, and more the more the fibre would
 * have to bend: by the turn from one end into the gap and by that from the gap into the other. Even bows cost less than
 * the same turn in a zigzag.
 */
function linkCost(a: End, b: End, p: Piece, q: Piece, hidden: HiddenPlaces, reach: number): number | null {
  const dx = b.at[0] - a.at[0];
  const dy = b.at[1] - a.at[1];
  const gap = Math.hypot(dx, dy);
  if (gap > reach) return null;
  let under = 0;
  for (let k = 0; k <= 8; k++) if (hidden.holds(a.at[0] + (dx * k) / 8, a.at[1] + (dy * k) / 8)) under++;
  const covered = under >= 1;
  if (!alike(p, q, covered)) return null;
  const width = 0.5 * (p.lineWidth! + q.lineWidth!);
  const shorter = Math.min(wayLength(p.line!), wayLength(q.line!));
  const longest = covered ? reach : Math.min(openGap(width), 0.9 * shorter + 2);
  if (gap > longest) return null;
  const { turn, uneven } = bendOf(a, b, dx, dy, gap);
  const near = Math.max(3, 1.2 * width);
  const most =
    gap <= near
      ? BEND.touching
      : (covered ? BEND.covered : BEND.open) + BEND.bow * Math.max(0, 1 - 2.5 * uneven);
  if (turn > most) return null;
  return (gap + 1) * (1 + turn * turn + uneven);
}

/**
 * Turns of a fibre that leaves a, crosses the gap and enters b: their sizes together, and how far they are from those of
 * an even bow. Ends that all but touch have no direction between them: the whole turn is shared evenly.
 */
function bendOf(a: End, b: End, dx: number, dy: number, gap: number): { turn: number; uneven: number } {
  const between = (u: Point, v: Point) => Math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]);
  const into: Point = [-b.out[0], -b.out[1]];
  if (gap < 3) return { turn: Math.abs(between(a.out, into)), uneven: 0 };
  const across: Point = [dx / gap, dy / gap];
  const first = between(a.out, across);
  const second = between(across, into);
  return { turn: Math.abs(first) + Math.abs(second), uneven: Math.abs(first - second) };
}

function oneOf(chain: readonly { piece: Piece; back: boolean }[]): Piece {
  const line = chain.flatMap(({ piece, back }) => (back ? piece.line!.toReversed() : piece.line!));
  const total = chain.reduce((s, { piece }) => s + wayLength(piece.line!), 0) || 1;
  const mean = (pick: (p: Piece) => number) =>
    chain.reduce((s, { piece }) => s + pick(piece) * wayLength(piece.line!), 0) / total;
  const width = mean((p) => p.lineWidth!);
  const longest = chain
    .map((c) => c.piece)
    .reduce((p, q) => (wayLength(q.line!) > wayLength(p.line!) ? q : p));
  const outline = ribbon(line, width / 2);
  if (lineArea(outline) < 0) outline.reverse();
  const e = (pick: (p: Piece) => number) => Math.max(...chain.map((c) => pick(c.piece)));
  return {
    ...longest,
    outline,
    line,
    lineWidth: width,
    lab: [mean((p) => p.lab[0]), mean((p) => p.lab[1]), mean((p) => p.lab[2])],
    touchesFrame: chain.some((c) => c.piece.touchesFrame),
    evidence: {
      lightness: e((p) => p.evidence.lightness),
      colour: e((p) => p.evidence.colour),
      ridge: e((p) => p.evidence.ridge),
      sharpness: mean((p) => p.evidence.sharpness),
      onPrint: mean((p) => p.evidence.onPrint),
    },
  };
}
