/**
 * A person's own hand on outlines: pieces merged, cut along a line or taken apart at their necks. The same code splits
 * touching pieces and draws outlines when the program finds them.
 */
import { grow } from './connected.ts';
import type { Point } from './finding.ts';
import { insideLine, levelLines, lineArea } from './outline.ts';
import { type Plane, smooth } from './pyramid.ts';
import { splitTouching } from './touching-pieces.ts';

/** Cells a pixel in each direction while outlines are worked on. */
const FINE = 2;

interface Sheet {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  readonly mask: Uint8Array;
}

function sheetOf(outlines: readonly (readonly Point[])[], room: number): Sheet {
  const all = outlines.flat();
  if (outlines.some((o) => o.length < 3)) throw new RangeError('outline: at least 3 points are needed');
  const x0 = Math.floor(Math.min(...all.map((p) => p[0]))) - room;
  const y0 = Math.floor(Math.min(...all.map((p) => p[1]))) - room;
  const width = FINE * (Math.ceil(Math.max(...all.map((p) => p[0]))) + room - x0);
  const height = FINE * (Math.ceil(Math.max(...all.map((p) => p[1]))) + room - y0);
  const mask = new Uint8Array(width * height);
  for (const outline of outlines) fillFine(outline, x0, y0, width, height, mask);
  return { x0, y0, width, height, mask };
}

/** Sets the cells whose middles lie inside an outline (even–odd), row by row from its crossings. */
function fillFine(
  outline: readonly Point[],
  x0: number,
  y0: number,
  width: number,
  height: number,
  into: Uint8Array,
): void {
  const crossings: number[][] = Array.from({ length: height }, () => []);
  const n = outline.length;
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[j]!;
    const from = Math.max(0, Math.floor((Math.min(ay, by) - y0) * FINE - 0.5));
    const to = Math.min(height - 1, Math.ceil((Math.max(ay, by) - y0) * FINE));
    for (let row = from; row <= to; row++) {
      const y = y0 + (row + 0.5) / FINE;
      if (ay > y !== by > y) crossings[row]!.push(((bx - ax) * (y - ay)) / (by - ay) + ax);
    }
  }
  for (let row = 0; row < height; row++) {
    const at = crossings[row]!.sort((p, q) => p - q);
    for (let k = 0; k + 1 < at.length; k += 2) {
      const first = Math.max(0, Math.ceil((at[k]! - x0) * FINE - 0.5));
      const end = Math.min(width, Math.ceil((at[k + 1]! - x0) * FINE - 0.5));
      if (end > first) into.fill(1, row * width + first, row * width + end);
    }
  }
}

/** Outline of what is 1 in `mask`, a mask of the sheet's size. */
function outlineOf(sheet: Sheet, mask: Uint8Array): Point[] | null {
  const { width, height, x0, y0 } = sheet;
  const field: Plane = smooth({ width, height, data: Float32Array.from(mask) });
  let best: Point[] | null = null;
  for (const line of levelLines(field, 0.5)) if (!best || lineArea(line) > lineArea(best)) best = line;
  return best === null ? null : (best as Point[]).map(([x, y]) => [x0 + x / FINE, y0 + y / FINE] as const);
}

/** One outline around all; gaps between them, up to `reach` px, are bridged. Throws RangeError when they lie farther apart. */
export function mergeOutlines(outlines: readonly (readonly Point[])[], reach = 8): Point[] {
  if (outlines.length === 0) throw new RangeError('merge: at least one outline is needed, given none');
  const apart = new RangeError(
    `merge: pieces at most ${2 * reach} px apart are needed, given some farther apart`,
  );
  const gap = widestGap(outlines);
  if (gap > 2 * reach) throw apart;
  const sheet = sheetOf(outlines, 3 + reach);
  const { width, height, mask } = sheet;
  for (let r = Math.floor((FINE * gap) / 2); r <= FINE * (reach + 1); r++) {
    const wide = r === 0 ? mask : grow(mask, width, height, r);
    const outside = new Uint8Array(wide.length);
    for (let i = 0; i < wide.length; i++) outside[i] = wide[i] ? 0 : 1;
    const back = r === 0 ? outside : grow(outside, width, height, r);
    const closed = new Uint8Array(mask.length);
    for (let i = 0; i < mask.length; i++) closed[i] = mask[i] || !back[i] ? 1 : 0;
    const merged = outlineOf(sheet, closed);
    if (merged && outlines.every((o) => holds(merged, o))) return merged;
  }
  throw apart;
}

/** px from a point to the nearest of a closed outline's edges, when it is below `least`; else `least`. */
function fromOutline([x, y]: Point, outline: readonly Point[], least: number): number {
  let nearest = least * least;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i]!;
    const b = outline[i + 1 === outline.length ? 0 : i + 1]!;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const px = x - a[0];
    const py = y - a[1];
    const t = Math.max(0, Math.min(1, (px * dx + py * dy) / (dx * dx + dy * dy || 1)));
    const u = px - t * dx;
    const v = py - t * dy;
    const square = u * u + v * v;
    if (square < nearest) nearest = square;
  }
  return nearest < least * least ? Math.sqrt(nearest) : least;
}

/** The widest gap that must be bridged so that all hang together, going from the nearest to the nearest, px. */
function widestGap(outlines: readonly (readonly Point[])[]): number {
  const left = new Set(outlines.slice(1));
  const near = new Map([...left].map((one) => [one, gapBetween(outlines[0]!, one)]));
  let widest = 0;
  while (left.size > 0) {
    const next = [...left].reduce((a, b) => (near.get(a)! <= near.get(b)! ? a : b));
    widest = Math.max(widest, near.get(next)!);
    left.delete(next);
    for (const one of left) near.set(one, Math.min(near.get(one)!, gapBetween(next, one)));
  }
  return widest;
}

function gapBetween(a: readonly Point[], b: readonly Point[]): number {
  if (insideLine(a, ...b[0]!) || insideLine(b, ...a[0]!)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const p of a) least = fromOutline(p, b, least);
  for (const p of b) least = fromOutline(p, a, least);
  return least;
}

/** Whether most of a part lies in the whole; its inner cells tell, since smoothing takes the corners of a drawn outline. */
function holds(whole: readonly Point[], part: readonly Point[]): boolean {
  const { x0, y0, width, height, mask } = sheetOf([part], 0);
  const within = new Uint8Array(mask.length);
  fillFine(whole, x0, y0, width, height, within);
  let own = 0;
  let inside = 0;
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    own++;
    if (within[i]) inside++;
  }
  return own > 0 && inside > 0.5 * own;
}

/** Pieces of an outline at its necks; the outline alone when there is no neck. */
export function splitOutline(outline: readonly Point[]): Point[][] {
  const sheet = sheetOf([outline], 2);
  const { label, count } = splitTouching(sheet.mask, sheet.width, sheet.height);
  if (count < 2) return [outline.slice()];
  const out: Point[][] = [];
  for (let k = 1; k <= count; k++) {
    const piece = outlineOf(
      sheet,
      Uint8Array.from(label, (l) => (l === k ? 1 : 0)),
    );
    if (piece) out.push(piece);
  }
  return out;
}

/** Both sides of a cut from a to b, drawn out to the outline; the outline alone when the cut misses it. */
export function cutOutline(outline: readonly Point[], a: Point, b: Point): Point[][] {
  const side = ([x, y]: Point) => (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
  const half = (sign: number): Point[] => {
    const kept: Point[] = [];
    outline.forEach((p, i) => {
      const q = outline[(i + 1) % outline.length]!;
      const s = sign * side(p);
      const t = sign * side(q);
      if (s >= 0) kept.push(p);
      if (s * t < 0) {
        const u = s / (s - t);
        kept.push([p[0] + u * (q[0] - p[0]), p[1] + u * (q[1] - p[1])]);
      }
    });
    return kept;
  };
  const parts = [half(1), half(-1)].filter((p) => p.length >= 3 && Math.abs(lineArea(p)) > 0);
  return parts.length < 2 ? [outline.slice()] : parts;
}
