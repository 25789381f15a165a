/** What stands out from the membrane and is no particle: droplet rings, scratches, soft stains. */

import { calipers } from './feret.ts';
import type { Point } from './finding.ts';
import { wayLength } from './middle-line.ts';
import { lengthOf, lineArea } from './outline.ts';
import type { Piece } from './piece.ts';

export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** Root mean square distance from the circle, px. */
  readonly off: number;
}

/** Least-squares circle through points. Source of the method: Kåsa, IEEE Trans. Instrum. Meas. 25 (1976) 8–14. */
export function circleThrough(points: readonly Point[]): Circle | null {
  const n = points.length;
  if (n < 5) return null;
  let mx = 0;
  let my = 0;
  for (const [x, y] of points) {
    mx += x / n;
    my += y / n;
  }
  let suu = 0;
  let svv = 0;
  let suv = 0;
  let su = 0;
  let sv = 0;
  for (const [x, y] of points) {
    const u = x - mx;
    const v = y - my;
    const q = u * u + v * v;
    suu += u * u;
    svv += v * v;
    suv += u * v;
    su += q * u;
    sv += q * v;
  }
  const det = suu * svv - suv * suv;
  if (!(det > 1e-9 * (suu + svv) ** 2)) return null;
  const a = (0.5 * (su * svv - sv * suv)) / det;
  const b = (0.5 * (sv * suu - su * suv)) / det;
  const r = Math.sqrt(a * a + b * b + (suu + svv) / n);
  const [x, y] = [a + mx, b + my];
  let off = 0;
  for (const [px, py] of points) off += (lengthOf(px - x, py - y) - r) ** 2;
  return { x, y, r, off: Math.sqrt(off / n) };
}

/** Directions from the circle's middle in which points lie, in 5° steps. */
function steps(circle: Circle, points: readonly Point[], into: Set<number>): void {
  for (const [x, y] of points) {
    into.add(Math.floor((Math.atan2(y - circle.y, x - circle.x) / Math.PI + 1) * 36) % 72);
  }
}

/**
 * Droplet rings: thin arcs of one circle that together go most of the way round. A fibre hardly ever lies on a circle to
 * within its own width, and never all the way round.
 */
export function ringPieces(pieces: readonly Piece[]): Set<number> {
  const arcs = pieces.flatMap((p, i) => {
    if (!p.line || !p.lineWidth || p.line.length < 12) return [];
    const circle = circleThrough(p.line);
    if (!circle || circle.r < 6 || circle.r > 4 * wayLength(p.line)) return [];
    if (circle.off > Math.max(0.8, 0.05 * circle.r)) return [];
    if (isBow(p, circle)) return [];
    return [{ i, circle, length: p.line.length }];
  });
  arcs.sort((a, b) => b.length - a.length || a.i - b.i);
  const rings = new Set<number>();
  for (const { circle } of arcs) {
    const slack = Math.max(2.5, 0.12 * circle.r);
    const on: number[] = [];
    const round = new Set<number>();
    for (let k = 0; k < pieces.length; k++) {
      const p = pieces[k]!;
      const points = p.line ?? p.outline;
      const [x, y] = points[0]!;
      if (Math.abs(lengthOf(x - circle.x, y - circle.y) - circle.r) > slack + 20) continue;
      const near: Point[] = [];
      for (let j = 0; j < points.length; j++) {
        const at = points[j]!;
        if (Math.abs(lengthOf(at[0] - circle.x, at[1] - circle.y) - circle.r) <= slack) near.push(at);
      }
      if (near.length < 0.75 * points.length) continue;
      on.push(k);
      steps(circle, near, round);
    }
    if (round.size >= 38) for (const k of on) rings.add(k);
  }
  return rings;
}

/** Rings are thin for their size and faint; what is neither must go round nearly whole (of 72 steps) to be one. */
const THIN_RING = 0.2;
const FAINT_RING = 0.25;
const NEARLY_ROUND = 62;

/** Whether an arc is a bent piece rather than a part of a ring. */
function isBow(piece: Piece, circle: Circle): boolean {
  if (piece.lineWidth! <= THIN_RING * circle.r && piece.contrast <= FAINT_RING) return false;
  const round = new Set<number>();
  steps(circle, piece.line!, round);
  return round.size < NEARLY_ROUND;
}

/** Straight to within a fraction of a pixel over a long way, thin and faint: a scratch in the membrane or the lens. */
export function isScratch(piece: Piece): boolean {
  const { line, lineWidth } = piece;
  if (!line || !lineWidth) return false;
  const length = wayLength(line);
  if (length < 40 || length < 14 * lineWidth) return false;
  const [ax, ay] = line[0]!;
  const [bx, by] = line[line.length - 1]!;
  const chord = Math.hypot(bx - ax, by - ay);
  if (chord < 0.985 * length) return false;
  let off = 0;
  for (const [x, y] of line)
    off = Math.max(off, Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / chord);
  return off < 0.6 + 0.008 * length && piece.contrast < 0.1;
}

/**
 * Rims this much softer than sharp ones belong to stains and shade. Small pieces are all rim: only what is wider than
 * the blur by far can be called soft.
 */
const SOFT_RIM = 0.4;
const SOFT_AREA = 200;
/** Where this much of the outline lies on print, what is beside it tells nothing about how soft the rim is. */
const MOSTLY_PRINT = 0.5;

export function isSoft(piece: Piece): boolean {
  const { sharpness, onPrint } = piece.evidence;
  return sharpness < SOFT_RIM && onPrint < MOSTLY_PRINT && Math.abs(lineArea(piece.outline)) > SOFT_AREA;
}

/**
 * Thin marks of colour without lightness: compression puts them beside coloured edges, and no optics shows a thin thing
 * by its colour alone.
 */
export function isTint(piece: Piece): boolean {
  const { evidence, outline, contrast } = piece;
  return evidence.lightness < 3 && contrast < 0.1 && calipers(outline).min < 8;
}

/** Beside the filter's rim by this many px nothing can be told from the dish, the rim's own blur and a fitted circle's error. */
const RIM = 4;
/** Share of an outline that may lie there. */
const RIM_SHARE = 0.4;

/** Slivers of dish and shade along the filter's edge. `inside` tells whether a place lies on the filter. */
export function isRim(piece: Piece, inside: (x: number, y: number) => boolean): boolean {
  const near = piece.outline.filter(
    ([x, y]) => !(inside(x - RIM, y) && inside(x + RIM, y) && inside(x, y - RIM) && inside(x, y + RIM)),
  );
  return near.length > RIM_SHARE * piece.outline.length;
}

/** Within this many px of a far stronger piece a faint one is its halo: compression, sharpening, shade. */
const HALO_REACH = 14;
const HALO_PART = 0.22;

/** Faint things right beside far stronger ones. */
export function haloPieces(pieces: readonly Piece[]): Set<number> {
  const boxes = pieces.map((p) => boxOf(p.outline));
  const cell = 128;
  const buckets = new Map<number, number[]>();
  for (let i = 0; i < boxes.length; i++) {
    const b = boxes[i]!;
    for (let y = Math.floor((b[1] - HALO_REACH) / cell); y <= Math.floor((b[3] + HALO_REACH) / cell); y++) {
      for (let x = Math.floor((b[0] - HALO_REACH) / cell); x <= Math.floor((b[2] + HALO_REACH) / cell); x++) {
        const key = y * 65536 + x;
        const own = buckets.get(key);
        if (own) own.push(i);
        else buckets.set(key, [i]);
      }
    }
  }
  const halo = new Set<number>();
  for (const group of buckets.values()) {
    for (const i of group) {
      const p = pieces[i]!;
      if (halo.has(i)) continue;
      for (const k of group) {
        const q = pieces[k]!;
        if (q.contrast * HALO_PART < p.contrast || apart(boxes[i]!, boxes[k]!) > HALO_REACH) continue;
        // Most of the faint thing lies close to the strong one, not just an end of it.
        let near = 0;
        for (let j = 0; j < p.outline.length; j++)
          if (nearOutline(p.outline[j]!, q.outline, boxes[k]!)) near++;
        if (near > 0.5 * p.outline.length) {
          halo.add(i);
          break;
        }
      }
    }
  }
  return halo;
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(outline: readonly Point[]): Box {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = x0;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = x1;
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  return [x0, y0, x1, y1];
}

const apart = (a: Box, b: Box): number => Math.max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3], 0);

function nearOutline([x, y]: Point, outline: readonly Point[], box: Box): boolean {
  if (Math.max(x - box[2], box[0] - x, y - box[3], box[1] - y) >= HALO_REACH) return false;
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!;
    const dx = p[0] - x;
    const dy = p[1] - y;
    if (dx * dx + dy * dy < HALO_REACH * HALO_REACH) return true;
  }
  return false;
}
