import type { Spot } from './outline-measures.ts';

/** Share of each pixel that a shape covers, 0 to 1, over a window of the picture; the window may reach outside it. */
export interface Cover {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly share: Float32Array;
}

/** An empty window around points with a margin in pixels. */
export function windowAround(points: readonly Spot[], margin: number): Cover {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = x0;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = x1;
  for (const [x, y] of points) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  const left = Math.floor(x0 - margin);
  const top = Math.floor(y0 - margin);
  const width = Math.ceil(x1 + margin) - left + 1;
  const height = Math.ceil(y1 + margin) - top + 1;
  return { left, top, width, height, share: new Float32Array(width * height) };
}

/**
 * Adds the exact area coverage of a polygon (pixel corners at whole numbers) times `weight` to `into`.
 * Each edge leaves its signed area to its right; the running sum along a row is then the coverage. Exact for
 * polygons without overlap of themselves; bands that cross themselves are clamped to 1.
 */
export function addPolygon(into: Cover, outline: readonly Spot[], weight = 1): void {
  const { left, top, width, height, share } = into;
  let y0 = Number.POSITIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  let x0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  for (const [x, y] of outline) {
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
  }
  const firstRow = Math.max(0, Math.floor(y0) - top);
  const lastRow = Math.min(height - 1, Math.floor(y1) - top);
  const firstColumn = Math.max(0, Math.floor(x0) - left);
  const lastColumn = Math.min(width - 1, Math.floor(x1) - left);
  if (lastRow < firstRow || lastColumn < firstColumn) return;
  const columns = lastColumn - firstColumn + 1;
  const stride = columns + 2;
  const sums = new Float64Array(stride * (lastRow - firstRow + 1));
  const ox = left + firstColumn;
  const oy = top + firstRow;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    addEdge(sums, stride, columns, lastRow - firstRow + 1, outline[j]!, outline[i]!, ox, oy);
  }
  for (let row = firstRow; row <= lastRow; row++) {
    let sum = 0;
    const at = (row - firstRow) * stride;
    const to = row * width + firstColumn;
    for (let c = 0; c < columns; c++) {
      sum += sums[at + c]!;
      const cover = Math.min(1, Math.abs(sum));
      if (cover > 1e-6) share[to + c] = Math.min(1, share[to + c]! + cover * weight);
    }
  }
}

function addEdge(
  sums: Float64Array,
  stride: number,
  columns: number,
  rows: number,
  a: Spot,
  b: Spot,
  ox: number,
  oy: number,
): void {
  if (a[1] === b[1]) return;
  const sign = a[1] < b[1] ? 1 : -1;
  const [up, down] = sign > 0 ? [a, b] : [b, a];
  const slope = (down[0] - up[0]) / (down[1] - up[1]);
  const from = Math.max(up[1] - oy, 0);
  const to = Math.min(down[1] - oy, rows);
  for (let row = Math.floor(from); row < to; row++) {
    const ya = Math.max(from, row);
    const yb = Math.min(to, row + 1);
    if (yb <= ya) continue;
    const xa = up[0] - ox + slope * (ya + oy - up[1]);
    const xb = up[0] - ox + slope * (yb + oy - up[1]);
    const low = Math.min(Math.max(Math.min(xa, xb), 0), columns);
    const high = Math.min(Math.max(Math.max(xa, xb), 0), columns);
    const area = sign * (yb - ya);
    const at = row * stride;
    const first = Math.floor(low);
    if (high <= first + 1) {
      const mean = (low + high) / 2 - first;
      sums[at + first] = sums[at + first]! + area * (1 - mean);
      sums[at + first + 1] = sums[at + first + 1]! + area * mean;
      continue;
    }
    for (let c = first; c < high; c++) {
      const l = Math.max(low, c);
      const h = Math.min(high, c + 1);
      const part = (area * (h - l)) / (high - low);
      const mean = (l + h) / 2 - c;
      sums[at + c] = sums[at + c]! + part * (1 - mean);
      sums[at + c + 1] = sums[at + c + 1]! + part * mean;
    }
  }
}

/** Blurs a window by `passes` running means of half width `radius` px (three passes are close to a Gaussian). */
export function softened(cover: Cover, radius: number, passes = 2): Cover {
  if (radius < 0.5) return { ...cover, share: cover.share.slice() };
  const r = Math.round(radius);
  let from = cover.share;
  for (let i = 0; i < passes; i++) {
    from = meanAlong(from, cover.width, cover.height, r, 1, cover.width);
    from = meanAlong(from, cover.height, cover.width, r, cover.width, 1);
  }
  return { ...cover, share: from };
}

function meanAlong(
  from: Float32Array,
  length: number,
  lines: number,
  r: number,
  step: number,
  lineStep: number,
): Float32Array {
  const to = new Float32Array(from.length);
  const part = 1 / (2 * r + 1);
  for (let line = 0; line < lines; line++) {
    const at = line * lineStep;
    let sum = 0;
    for (let i = 0; i < Math.min(r, length); i++) sum += from[at + i * step]!;
    for (let i = 0; i < length; i++) {
      if (i + r < length) sum += from[at + (i + r) * step]!;
      if (i - r - 1 >= 0) sum -= from[at + (i - r - 1) * step]!;
      to[at + i * step] = sum * part;
    }
  }
  return to;
}
