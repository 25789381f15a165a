import type { Chance } from './chance.ts';
import { feretOf, type Spot } from './outline-measures.ts';

/** Outlines in µm around 0, scaled so that the maximum Feret diameter is exactly `sizeUm`. */
function sized(outline: readonly Spot[], sizeUm: number): Spot[] {
  const scale = sizeUm / feretOf(outline).max;
  return outline.map(([x, y]) => [x * scale, y * scale]);
}

/** Cuts corners: each pass replaces a corner by two at a quarter of its sides. */
export function rounded(outline: readonly Spot[], passes: number): Spot[] {
  let points = [...outline];
  for (let pass = 0; pass < passes; pass++) {
    const next: Spot[] = [];
    for (let i = 0; i < points.length; i++) {
      const [ax, ay] = points[i]!;
      const [bx, by] = points[(i + 1) % points.length]!;
      next.push(
        [0.75 * ax + 0.25 * bx, 0.75 * ay + 0.25 * by],
        [0.25 * ax + 0.75 * bx, 0.25 * ay + 0.75 * by],
      );
    }
    points = next;
  }
  return points;
}

/** Breaks each side into four with small steps sideways, as torn edges have. */
function torn(outline: readonly Spot[], roughness: number, chance: Chance): Spot[] {
  let points = [...outline];
  for (const share of [roughness, roughness * 0.6]) {
    const next: Spot[] = [];
    for (let i = 0; i < points.length; i++) {
      const [ax, ay] = points[i]!;
      const [bx, by] = points[(i + 1) % points.length]!;
      const d = share * chance.normal();
      const t = chance.between(0.35, 0.65);
      next.push([ax, ay], [ax + (bx - ax) * t - (by - ay) * d, ay + (by - ay) * t + (bx - ax) * d]);
    }
    points = next;
  }
  return points;
}

/** A broken-off piece: five to nine corners, more or less drawn out, bent when it is a shaving. */
export function fragmentOutline(sizeUm: number, aspect: number, chance: Chance): Spot[] {
  const corners = chance.whole(5, 9);
  const points: Spot[] = [];
  for (let i = 0; i < corners; i++) {
    const angle = (2 * Math.PI * (i + chance.between(-0.32, 0.32))) / corners;
    const radius = chance.between(0.6, 1.05);
    points.push([Math.cos(angle) * radius, Math.sin(angle) * radius * aspect]);
  }
  const bend = aspect < 0.45 ? chance.between(-0.5, 0.5) : 0;
  const shaped = rounded(torn(points, chance.between(0.04, 0.13), chance), 2).map(
    ([x, y]): Spot => [x, y + bend * (x * x - 0.3)],
  );
  return turned(sized(shaped, sizeUm), chance.between(0, 2 * Math.PI));
}

/** A thin sheet: large, soft outline with a bay or two. */
export function filmOutline(sizeUm: number, chance: Chance): Spot[] {
  const points: Spot[] = [];
  const corners = chance.whole(6, 10);
  for (let i = 0; i < corners; i++) {
    const angle = (2 * Math.PI * (i + chance.between(-0.3, 0.3))) / corners;
    const radius = chance.yes(0.2) ? chance.between(0.45, 0.6) : chance.between(0.75, 1.05);
    points.push([Math.cos(angle) * radius, Math.sin(angle) * radius * 0.75]);
  }
  return turned(sized(rounded(torn(points, 0.03, chance), 3), sizeUm), chance.between(0, 2 * Math.PI));
}

/** A ball seen from above, a little out of round. */
export function beadOutline(sizeUm: number, chance: Chance): Spot[] {
  const flat = chance.between(0.95, 1);
  const points: Spot[] = [];
  for (let i = 0; i < 96; i++) {
    const angle = (2 * Math.PI * i) / 96;
    points.push([Math.cos(angle), Math.sin(angle) * flat]);
  }
  return turned(sized(points, sizeUm), chance.between(0, 2 * Math.PI));
}

/** A crumb of foam: a lump with bulging cells along its edge. */
export function foamOutline(sizeUm: number, chance: Chance): Spot[] {
  const bulges = chance.whole(7, 11);
  const phase = chance.between(0, 6.28);
  const oval = chance.between(0.1, 0.25);
  const points: Spot[] = [];
  for (let i = 0; i < 160; i++) {
    const angle = (2 * Math.PI * i) / 160;
    const lump = 1 + oval * Math.cos(2 * angle + phase) + 0.07 * Math.cos(3 * angle + 2 * phase);
    const radius = lump + 0.09 * Math.abs(Math.sin((bulges * angle) / 2 + phase));
    points.push([Math.cos(angle) * radius, Math.sin(angle) * radius]);
  }
  return turned(sized(points, sizeUm), chance.between(0, 2 * Math.PI));
}

/** A shred of soft plant tissue: lobed and ragged. */
export function tissueOutline(sizeUm: number, chance: Chance): Spot[] {
  const waves = [2, 3, 4, 5, 7, 9].map((n) => ({
    n,
    a: (0.45 * chance.normal()) / n,
    p: chance.between(0, 6.28),
  }));
  const points: Spot[] = [];
  const flat = chance.between(0.45, 0.9);
  for (let i = 0; i < 120; i++) {
    const angle = (2 * Math.PI * i) / 120;
    const radius = Math.max(
      0.35,
      waves.reduce((r, w) => r + w.a * Math.cos(w.n * angle + w.p), 1),
    );
    points.push([Math.cos(angle) * radius, Math.sin(angle) * radius * flat]);
  }
  return turned(sized(points, sizeUm), chance.between(0, 2 * Math.PI));
}

/**
 * The middle line of a fibre: its bend wanders slowly, now one way, now the other. Turned so that it starts
 * anywhere; centred on 0; exactly `lengthUm` long.
 */
export function fibreLine(lengthUm: number, curl: number, chance: Chance): Spot[] {
  const steps = Math.max(16, Math.min(200, Math.round(lengthUm / 12)));
  const step = lengthUm / steps;
  let heading = chance.between(0, 2 * Math.PI);
  let bend = (curl / lengthUm) * chance.normal();
  let x = 0;
  let y = 0;
  const points: Spot[] = [[0, 0]];
  for (let i = 0; i < steps; i++) {
    bend += (curl / lengthUm) * Math.sqrt(6 / steps) * chance.normal() - (bend * 3) / steps;
    heading += bend * step;
    x += Math.cos(heading) * step;
    y += Math.sin(heading) * step;
    points.push([x, y]);
  }
  const mx = points.reduce((s, p) => s + p[0], 0) / points.length;
  const my = points.reduce((s, p) => s + p[1], 0) / points.length;
  return points.map(([px, py]) => [px - mx, py - my]);
}

export function turned(outline: readonly Spot[], angle: number): Spot[] {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return outline.map(([x, y]) => [c * x - s * y, s * x + c * y]);
}
