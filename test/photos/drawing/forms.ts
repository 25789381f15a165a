/** Outlines by other recipes than the demo's: cleaved, grown and bent forms instead of rounded polygons. */
import type { Chance } from '../../../demo/drawing/chance.ts';
import { feretOf, type Spot } from '../../../demo/drawing/outline-measures.ts';

const sized = (outline: readonly Spot[], size: number, turn: number): Spot[] => {
  const k = size / feretOf(outline).max;
  const c = Math.cos(turn) * k;
  const s = Math.sin(turn) * k;
  return outline.map(([x, y]) => [c * x - s * y, s * x + c * y]);
};

const ring = (n: number, radius: (angle: number) => number): Spot[] =>
  Array.from({ length: n }, (_, i) => {
    const a = (2 * Math.PI * i) / n;
    return [radius(a) * Math.cos(a), radius(a) * Math.sin(a)];
  });

/** Cuts of a disc by straight lines: sharp corners, straight sides. */
export function chip(size: number, chance: Chance): Spot[] {
  const flat = chance.between(0.45, 1);
  let outline = ring(90, () => 1).map(([x, y]): Spot => [x, y * flat]);
  for (let cut = chance.whole(4, 7); cut > 0; cut--) {
    const a = chance.between(0, 6.283);
    const nx = Math.cos(a);
    const ny = Math.sin(a);
    const d = chance.between(0.35, 0.75) * Math.hypot(nx, ny * flat);
    const next: Spot[] = [];
    outline.forEach((p, i) => {
      const q = outline[(i + 1) % outline.length]!;
      const dp = p[0] * nx + p[1] * ny - d;
      const dq = q[0] * nx + q[1] * ny - d;
      if (dp <= 0) next.push(p);
      if (dp * dq < 0) {
        const t = dp / (dp - dq);
        next.push([p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]);
      }
    });
    if (next.length > 2) outline = next;
  }
  return sized(outline, size, chance.between(0, 6.283));
}

/** A radius made of a few waves: smooth lumps with bays. */
export function pebble(size: number, roughness: number, chance: Chance): Spot[] {
  const waves = [2, 3, 4, 5, 6].map((n) => ({
    n,
    a: (roughness * chance.normal()) / n,
    p: chance.between(0, 6.283),
  }));
  const radius = (a: number): number =>
    Math.max(
      0.3,
      waves.reduce((r, w) => r + w.a * Math.sin(w.n * a + w.p), 1),
    );
  return sized(ring(110, radius), size, chance.between(0, 6.283));
}

/** A kite with a long tail. */
export function splinter(size: number, chance: Chance): Spot[] {
  const half = chance.between(0.08, 0.17);
  const at = chance.between(-0.3, 0.3);
  const outline: Spot[] = [
    [-0.5, 0],
    [at, half * chance.between(0.7, 1)],
    [0.5, half * chance.between(0, 0.3)],
    [at * 0.5, -half * chance.between(0.7, 1)],
  ];
  return sized(outline, size, chance.between(0, 6.283));
}

/** A thick arc: a shaving that rolled up. */
export function curl(size: number, chance: Chance): Spot[] {
  const sweep = chance.between(1.2, 3.6);
  const thick = chance.between(0.12, 0.24);
  const n = 40;
  const side = (radius: number, i: number): Spot => {
    const t = i / n;
    const taper = radius + (radius > 1 ? -1 : 1) * thick * 0.6 * (2 * t - 1) ** 4;
    return [taper * Math.cos(sweep * t), taper * Math.sin(sweep * t)];
  };
  const outline: Spot[] = [];
  for (let i = 0; i <= n; i++) outline.push(side(1 + thick, i));
  for (let i = n; i >= 0; i--) outline.push(side(1 - thick, i));
  const middle = outline.reduce(
    (m, p) => [m[0] + p[0] / outline.length, m[1] + p[1] / outline.length],
    [0, 0],
  );
  return sized(
    outline.map(([x, y]): Spot => [x - middle[0]!, y - middle[1]!]),
    size,
    chance.between(0, 6.283),
  );
}

export const ball = (size: number): Spot[] => ring(80, () => size / 2);

/** A line through random anchors, joined by cubic curves; `looseness` is how far the anchors stray from straight. */
export function thread(length: number, looseness: number, chance: Chance): Spot[] {
  const anchors = 3 + Math.min(4, Math.floor(length / 700));
  const heading = chance.between(0, 6.283);
  const points: Spot[] = [];
  for (let i = -1; i <= anchors; i++) {
    const t = i / (anchors - 1);
    const stray = looseness * chance.normal() * 0.22;
    points.push([
      Math.cos(heading) * t - Math.sin(heading) * stray,
      Math.sin(heading) * t + Math.cos(heading) * stray,
    ]);
  }
  const line: Spot[] = [];
  const steps = Math.max(6, Math.round(length / 14 / anchors));
  for (let i = 1; i < points.length - 2; i++) {
    const [a, b, c, d] = [points[i - 1]!, points[i]!, points[i + 1]!, points[i + 2]!];
    for (let s = 0; s < steps + (i === points.length - 3 ? 1 : 0); s++) {
      const t = s / steps;
      const blend = (k: 0 | 1): number =>
        b[k] +
        0.5 *
          t *
          (c[k] - a[k] + t * (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k] + t * (3 * (b[k] - c[k]) + d[k] - a[k])));
      line.push([blend(0), blend(1)]);
    }
  }
  let drawn = 0;
  for (let i = 1; i < line.length; i++)
    drawn += Math.hypot(line[i]![0] - line[i - 1]![0], line[i]![1] - line[i - 1]![1]);
  const k = length / drawn;
  const mx = line.reduce((s, p) => s + p[0], 0) / line.length;
  const my = line.reduce((s, p) => s + p[1], 0) / line.length;
  return line.map(([x, y]) => [(x - mx) * k, (y - my) * k]);
}
