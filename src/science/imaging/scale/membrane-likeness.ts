/** Whether a photograph looks like a membrane: one even ground with things on it, not a scene of many grounds. */
import type { Picture } from '../finding.ts';
import { cellsOf } from './cells.ts';
import { type FilterEdge, insideFilter } from './edge.ts';

/** A cell belongs to the ground when every channel lies this near to the smooth surface (share of white; project choice). */
const NEAR = 0.06;
const TERMS = 6;

function terms(x: number, y: number): number[] {
  return [1, x, y, x * x, x * y, y * y];
}

/**
 * Share of the filter's cells (about 60 along the long side) that lie near one smooth surface: a quadratic through each
 * channel, fitted by iteratively leaving out what lies far from it. A membrane with pieces, stains and uneven light
 * comes near 1; a photograph of something else rarely reaches a half.
 */
export function membraneLikeness(picture: Picture, edge: FilterEdge): number {
  const cells = cellsOf(picture, 60);
  const places: { at: number; t: number[] }[] = [];
  for (let j = 0; j < cells.rows; j++) {
    for (let i = 0; i < cells.columns; i++) {
      const x = (i + 0.5) * cells.step;
      const y = (j + 0.5) * cells.step;
      if (!insideFilter(edge, x, y)) continue;
      const t = terms((2 * x) / picture.width - 1, (2 * y) / picture.height - 1);
      places.push({ at: (j * cells.columns + i) * 3, t });
    }
  }
  if (places.length < 30) return 0;
  const ground = new Uint8Array(places.length).fill(1);
  for (const reach of [4, 2.5, 1.6, 1, 1]) {
    const surfaces = [0, 1, 2].map((c) => surface(places, ground, (p) => cells.rgb[p.at + c]!));
    if (surfaces.some((s) => s === null)) return 0;
    places.forEach((p, i) => {
      const far = surfaces.some((s, c) => {
        const v = s!.reduce((sum, k, n) => sum + k * p.t[n]!, 0);
        return Math.abs(cells.rgb[p.at + c]! - v) > NEAR * reach;
      });
      ground[i] = far ? 0 : 1;
    });
  }
  return ground.reduce((s, g) => s + g, 0) / places.length;
}

/** Least squares by the normal equations of six terms, solved by elimination with pivots. */
function surface<P extends { readonly t: readonly number[] }>(
  places: readonly P[],
  ground: Uint8Array,
  value: (p: P) => number,
): number[] | null {
  const m = Array.from({ length: TERMS }, () => new Array<number>(TERMS + 1).fill(0));
  let used = 0;
  places.forEach((p, i) => {
    if (!ground[i]) return;
    used++;
    const v = value(p);
    for (let a = 0; a < TERMS; a++) {
      for (let b = 0; b < TERMS; b++) m[a]![b]! += p.t[a]! * p.t[b]!;
      m[a]![TERMS]! += p.t[a]! * v;
    }
  });
  if (used < 3 * TERMS) return null;
  for (let k = 0; k < TERMS; k++) {
    let top = k;
    for (let r = k + 1; r < TERMS; r++) if (Math.abs(m[r]![k]!) > Math.abs(m[top]![k]!)) top = r;
    [m[k], m[top]] = [m[top]!, m[k]!];
    if (Math.abs(m[k]![k]!) < 1e-9) return null;
    for (let r = 0; r < TERMS; r++) {
      if (r === k) continue;
      const f = m[r]![k]! / m[k]![k]!;
      for (let c = k; c <= TERMS; c++) m[r]![c]! -= f * m[k]![c]!;
    }
  }
  return m.map((row, k) => row[TERMS]! / row[k]!);
}
