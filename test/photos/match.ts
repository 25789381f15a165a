/** Which find is which true piece: by place, one to one. */
import { addPolygon, windowAround } from '../../demo/drawing/coverage.ts';
import { inside } from '../../demo/drawing/laying.ts';
import { areaOf, centreOf, type Spot } from '../../demo/drawing/outline-measures.ts';

export interface TrueForm {
  readonly outline: readonly Spot[];
  /** Middle line of a fibre; null for anything compact. */
  readonly line: readonly Spot[] | null;
  /** Half the width of a fibre; 0 for anything compact. */
  readonly halfPx: number;
  readonly feretPx: number;
}

export interface FoundForm {
  readonly outline: readonly Spot[];
  readonly feretPx: number;
}

export interface Pair {
  readonly truth: number;
  readonly find: number;
  readonly score: number;
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(outline: readonly Spot[]): Box {
  let [x0, y0, x1, y1] = [1e9, 1e9, -1e9, -1e9];
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return [x0, y0, x1, y1];
}

const apart = (a: Box, b: Box, gap: number): boolean =>
  a[0] > b[2] + gap || b[0] > a[2] + gap || a[1] > b[3] + gap || b[1] > a[3] + gap;

/** Intersection over union of two outlines, from exact pixel coverage. */
export function overlapOf(a: readonly Spot[], b: readonly Spot[]): number {
  const first = windowAround([...a, ...b], 1);
  const second = { ...first, share: new Float32Array(first.share.length) };
  addPolygon(first, a);
  addPolygon(second, b);
  let both = 0;
  let either = 0;
  for (let i = 0; i < first.share.length; i++) {
    both += Math.min(first.share[i]!, second.share[i]!);
    either += Math.max(first.share[i]!, second.share[i]!);
  }
  return either > 0 ? both / either : 0;
}

export function distanceToLine(x: number, y: number, line: readonly Spot[]): number {
  let best = 1e18;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const dx = line[i]![0] - ax;
    const dy = line[i]![1] - ay;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, (x - ax - t * dx) ** 2 + (y - ay - t * dy) ** 2);
  }
  return Math.sqrt(best);
}

/** How well a find follows a true fibre: the smaller of the share of the fibre it covers and the share of it that lies on the fibre. */
function alongFibre(line: readonly Spot[], find: readonly Spot[], near: number): number {
  const closed = [...find, find[0]!];
  const covered = line.filter(([x, y]) => inside(x, y, find) || distanceToLine(x, y, closed) <= near).length;
  const on = find.filter(([x, y]) => distanceToLine(x, y, line) <= near).length;
  return Math.min(covered / line.length, on / find.length);
}

/**
 * Score of a possible pair from 0 to 1, 0 where they cannot be the same thing. Compact pieces: an overlap of at least
 * 0.3, or middles within a third of the true size (at least 2 px) and sizes within a factor of two. Fibres: half of
 * the line covered and half of the find on the line, 3 px beside the fibre at most.
 */
export function likeness(truth: TrueForm, find: FoundForm): number {
  if (truth.line) {
    const score = alongFibre(truth.line, find.outline, truth.halfPx + 3);
    return score >= 0.5 ? score : 0;
  }
  const overlap = overlapOf(truth.outline, find.outline);
  if (overlap >= 0.3) return overlap;
  const [ax, ay] = centreOf(truth.outline);
  const [bx, by] = centreOf(find.outline);
  const away = Math.hypot(ax - bx, ay - by);
  const ratio = find.feretPx / truth.feretPx;
  if (away <= Math.max(2, truth.feretPx / 3) && ratio > 0.5 && ratio < 2)
    return 0.3 * (1 - away / (truth.feretPx + 6));
  return 0;
}

/** One to one, best pairs first. */
export function matchForms(truths: readonly TrueForm[], finds: readonly FoundForm[]): Pair[] {
  const candidates: Pair[] = [];
  const boxes = finds.map((f) => boxOf(f.outline));
  truths.forEach((truth, t) => {
    const box = boxOf(truth.outline);
    finds.forEach((find, f) => {
      if (apart(box, boxes[f]!, 3)) return;
      const score = likeness(truth, find);
      if (score > 0) candidates.push({ truth: t, find: f, score });
    });
  });
  candidates.sort((a, b) => b.score - a.score || a.truth - b.truth || a.find - b.find);
  const usedTruths = new Set<number>();
  const usedFinds = new Set<number>();
  return candidates.filter(({ truth, find }) => {
    if (usedTruths.has(truth) || usedFinds.has(find)) return false;
    usedTruths.add(truth);
    usedFinds.add(find);
    return true;
  });
}

/** Whether most of a find lies on a true piece: then it is a part of that piece rather than something invented. */
export function partOf(find: FoundForm, truth: TrueForm): boolean {
  if (apart(boxOf(find.outline), boxOf(truth.outline), 2)) return false;
  if (truth.line) {
    const on = find.outline.filter(([x, y]) => distanceToLine(x, y, truth.line!) <= truth.halfPx + 4).length;
    return on > 0.6 * find.outline.length;
  }
  const first = windowAround(find.outline, 1);
  const second = { ...first, share: new Float32Array(first.share.length) };
  addPolygon(first, find.outline);
  addPolygon(second, truth.outline);
  let both = 0;
  for (let i = 0; i < first.share.length; i++) both += Math.min(first.share[i]!, second.share[i]!);
  return both > 0.5 * areaOf(find.outline);
}
