/**
 * Pieces that the print has cut: what lies on a printed line is judged by other rules than what lies beside it, so one
 * piece may be found in parts that end exactly at the rim of the print. Two real pieces do not meet along that rim.
 */
import { rootOf } from './connected.ts';
import { convexHull } from './feret.ts';
import type { Point } from './finding.ts';
import { lengthOf, lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { mergeOutlines } from './redraw.ts';
import type { HiddenPlaces } from './under-print.ts';

/** A border along the rim of the print at least this long, px, and this part of the smaller piece's size. */
const BORDER = 5;
const BORDER_PART = 0.3;
/** Border points of the two parts lie this close, px. */
const CLOSE = 4;
/** Colours across a printed line on which nothing was found must agree this well (CIELAB). */
const SAME_COLOUR = 14;

interface RimPoint {
  readonly at: Point;
  /** Outward normal of the piece. */
  readonly out: Point;
  /** Length of outline that the point stands for. */
  readonly length: number;
}

/** Outline points that run along the rim of the print: one side in its zone, the other not. */
function rimPoints(outline: readonly Point[], hidden: HiddenPlaces): RimPoint[] {
  const n = outline.length;
  const reach = 5;
  const rim: RimPoint[] = [];
  for (let i = 0; i < n; i++) {
    const at = outline[i]!;
    const a = outline[(i + n - 2) % n]!;
    const b = outline[(i + 2) % n]!;
    const d = lengthOf(b[0] - a[0], b[1] - a[1]);
    if (!(d > 0)) continue;
    const u = (b[1] - a[1]) / d;
    const v = -(b[0] - a[0]) / d;
    if (
      hidden.holds(at[0] + reach * u, at[1] + reach * v) ===
      hidden.holds(at[0] - reach * u, at[1] - reach * v)
    )
      continue;
    const p = outline[(i + n - 1) % n]!;
    const q = outline[(i + 1) % n]!;
    rim.push({ at, out: [u, v], length: lengthOf(q[0] - p[0], q[1] - p[1]) / 2 });
  }
  return rim;
}

interface Facing {
  readonly length: number;
  readonly points: readonly Point[];
}

/** Rim of `a` that has the outline of `b` right beside it. */
function beside(a: readonly RimPoint[], b: readonly Point[], box: Box): Facing {
  let length = 0;
  const points: Point[] = [];
  for (const p of a) {
    const [x, y] = p.at;
    if (x < box[0] - CLOSE || x > box[2] + CLOSE || y < box[1] - CLOSE || y > box[3] + CLOSE) continue;
    let best: Point | null = null;
    let least = CLOSE;
    for (const q of b) {
      const d = lengthOf(q[0] - x, q[1] - y);
      if (d < least) {
        least = d;
        best = q;
      }
    }
    if (!best) continue;
    length += p.length;
    points.push(p.at, best);
  }
  return { length, points };
}

/** Rim of `a` that faces rim of `b` no farther than `far` px away along the normal. */
function facing(a: readonly RimPoint[], b: readonly RimPoint[], far: number): Facing {
  let length = 0;
  const points: Point[] = [];
  for (const p of a) {
    let best: RimPoint | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const q of b) {
      const dx = q.at[0] - p.at[0];
      const dy = q.at[1] - p.at[1];
      const along = dx * p.out[0] + dy * p.out[1];
      const off = Math.abs(dx * p.out[1] - dy * p.out[0]);
      if (along < -CLOSE || along > far || off > CLOSE) continue;
      if (p.out[0] * q.out[0] + p.out[1] * q.out[1] > -0.6) continue;
      if (Math.abs(along) + off < least) {
        least = Math.abs(along) + off;
        best = q;
      }
    }
    if (!best) continue;
    length += p.length;
    points.push(p.at, best.at);
  }
  return { length, points };
}

/**
 * Pieces with the parts of one piece put together. `hidden` tells whether a place lies under print, whose lines are
 * `breadth` px broad.
 */
export function healAcrossPrint(pieces: readonly Piece[], hidden: HiddenPlaces, breadth: number): Piece[] {
  if (breadth === 0) return pieces.slice();
  const rims = pieces.map((p) => rimPoints(p.outline, hidden));
  const boxes = pieces.map((p) => boxOf(p.outline));
  const group = pieces.map((_, i) => i);
  const bridges: { of: number; hull: Point[] }[] = [];
  const live = pieces.flatMap((_, i) => (rims[i]!.reduce((s, r) => s + r.length, 0) >= BORDER ? [i] : []));
  live.sort((p, q) => boxes[p]![0] - boxes[q]![0]);
  for (let u = 0; u < live.length; u++) {
    const i = live[u]!;
    for (let v = u + 1; v < live.length; v++) {
      const k = live[v]!;
      if (boxes[k]![0] > boxes[i]![2] + 1.5 * breadth + CLOSE) break;
      if (
        boxes[k]![1] > boxes[i]![3] + 1.5 * breadth + CLOSE ||
        boxes[i]![1] > boxes[k]![3] + 1.5 * breadth + CLOSE
      )
        continue;
      const least = Math.max(BORDER, BORDER_PART * Math.min(sizeOf(boxes[i]!), sizeOf(boxes[k]!)));
      let shared = beside(rims[i]!, pieces[k]!.outline, boxes[k]!);
      const back = beside(rims[k]!, pieces[i]!.outline, boxes[i]!);
      if (back.length > shared.length) shared = back;
      if (shared.length < least && sameColour(pieces[i]!, pieces[k]!))
        shared = facing(rims[i]!, rims[k]!, 1.5 * breadth + CLOSE);
      if (shared.length < least || shared.points.length < 6) continue;
      bridges.push({ of: i, hull: convexHull(shared.points) });
      group[rootOf(group, k)] = rootOf(group, i);
    }
  }
  const members = new Map<number, number[]>();
  pieces.forEach((_, i) => {
    const r = rootOf(group, i);
    members.set(r, [...(members.get(r) ?? []), i]);
  });
  return [...members.values()].map((own) => {
    if (own.length === 1) return pieces[own[0]!]!;
    const hulls = bridges.filter((b) => own.includes(b.of) && b.hull.length >= 3).map((b) => b.hull);
    return together(
      own.map((i) => pieces[i]!),
      hulls,
    );
  });
}

const sameColour = (p: Piece, q: Piece): boolean =>
  p.evidence.onPrint < 0.5 &&
  q.evidence.onPrint < 0.5 &&
  Math.hypot(p.lab[0] - q.lab[0], p.lab[1] - q.lab[1], p.lab[2] - q.lab[2]) < SAME_COLOUR;

/** One piece; its look is that of the part least on the print, which the ink has not changed. */
function together(parts: readonly Piece[], bridges: readonly Point[][]): Piece {
  const areas = parts.map((p) => Math.abs(lineArea(p.outline)));
  const open = (i: number) => areas[i]! * (1 - parts[i]!.evidence.onPrint) + 0.01 * areas[i]!;
  const best = parts.map((_, i) => i).reduce((a, b) => (open(b) > open(a) ? b : a));
  const whole = areas.reduce((s, a) => s + a, 0);
  const look = parts[best]!;
  let outline: readonly Point[];
  try {
    outline = mergeOutlines([...parts.map((p) => p.outline), ...bridges], 4);
  } catch (problem) {
    if (problem instanceof RangeError) return look;
    throw problem;
  }
  return {
    ...look,
    outline,
    line: null,
    lineWidth: null,
    touchesFrame: parts.some((p) => p.touchesFrame),
    evidence: {
      ...look.evidence,
      lightness: Math.max(...parts.map((p) => p.evidence.lightness)),
      colour: Math.max(...parts.map((p) => p.evidence.colour)),
      onPrint: parts.reduce((s, p, i) => s + (p.evidence.onPrint * areas[i]!) / whole, 0),
    },
  };
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(outline: readonly Point[]): Box {
  let [x0, y0, x1, y1] = [1e9, 1e9, -1e9, -1e9];
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return [x0, y0, x1, y1];
}

const sizeOf = (b: Box): number => Math.hypot(b[2] - b[0], b[3] - b[1]);
