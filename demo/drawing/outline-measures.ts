/** Exact measures of a drawn outline: what a perfect instrument would report. Independent of the finder's own code. */
export type Spot = readonly [x: number, y: number];

/** Area by the shoelace formula, always positive. */
export function areaOf(outline: readonly Spot[]): number {
  let twice = 0;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    twice += outline[j]![0] * outline[i]![1] - outline[i]![0] * outline[j]![1];
  }
  return Math.abs(twice) / 2;
}

/** Centre of area; of the corners where the area vanishes. */
export function centreOf(outline: readonly Spot[]): Spot {
  let twice = 0;
  let x = 0;
  let y = 0;
  const [ox, oy] = outline[0]!;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const ax = outline[j]![0] - ox;
    const ay = outline[j]![1] - oy;
    const bx = outline[i]![0] - ox;
    const by = outline[i]![1] - oy;
    const cross = ax * by - bx * ay;
    twice += cross;
    x += (ax + bx) * cross;
    y += (ay + by) * cross;
  }
  if (Math.abs(twice) < 1e-9) {
    const n = outline.length;
    return [outline.reduce((s, p) => s + p[0], 0) / n, outline.reduce((s, p) => s + p[1], 0) / n];
  }
  return [ox + x / (3 * twice), oy + y / (3 * twice)];
}

/** Convex hull, counter-clockwise in a right-handed frame, no three corners on a line. */
export function hullOf(points: readonly Spot[]): Spot[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (ordered: readonly Spot[]): Spot[] => {
    const chain: Spot[] = [];
    for (const p of ordered) {
      while (chain.length > 1) {
        const a = chain[chain.length - 2]!;
        const b = chain[chain.length - 1]!;
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Longest and shortest distance between parallel tangents (maximum and minimum Feret diameter, ISO 9276-6). */
export function feretOf(outline: readonly Spot[]): { max: number; min: number } {
  const hull = hullOf(outline);
  let max = 0;
  let min = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i]!;
    const b = hull[(i + 1) % hull.length]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    let depth = 0;
    for (const p of hull) {
      max = Math.max(max, Math.hypot(p[0] - a[0], p[1] - a[1]));
      if (length > 0) {
        const d = Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length;
        depth = Math.max(depth, d);
      }
    }
    if (length > 0) min = Math.min(min, depth);
  }
  return { max, min: Number.isFinite(min) ? min : 0 };
}

/** Length of an open line. */
export function lengthOf(line: readonly Spot[]): number {
  let sum = 0;
  for (let i = 1; i < line.length; i++) {
    sum += Math.hypot(line[i]![0] - line[i - 1]![0], line[i]![1] - line[i - 1]![1]);
  }
  return sum;
}

/** Outline of a band of given half width (may vary by point) around an open line. */
export function bandAround(line: readonly Spot[], halfWidth: (index: number) => number): Spot[] {
  const left: Spot[] = [];
  const right: Spot[] = [];
  for (let i = 0; i < line.length; i++) {
    const before = line[Math.max(0, i - 1)]!;
    const after = line[Math.min(line.length - 1, i + 1)]!;
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]) || 1;
    const nx = -(after[1] - before[1]) / length;
    const ny = (after[0] - before[0]) / length;
    const h = halfWidth(i);
    left.push([line[i]![0] + nx * h, line[i]![1] + ny * h]);
    right.push([line[i]![0] - nx * h, line[i]![1] - ny * h]);
  }
  return [...left, ...right.reverse()];
}
