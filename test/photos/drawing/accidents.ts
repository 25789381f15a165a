import type { Chance } from '../../../demo/drawing/chance.ts';
import type { Spot } from '../../../demo/drawing/outline-measures.ts';
import type { Decoy } from '../../../demo/drawing/truth.ts';
import { type Planes, ramp, wandering } from './planes.ts';

/** Visits the pixels around a place and multiplies their light by what `factor` says, channel by channel. */
function around(
  planes: Planes,
  [cx, cy]: Spot,
  reach: number,
  factor: (dx: number, dy: number) => readonly [number, number, number] | null,
): void {
  const { width, height, rgb } = planes;
  for (let y = Math.max(0, Math.floor(cy - reach)); y < Math.min(height, cy + reach); y++) {
    for (let x = Math.max(0, Math.floor(cx - reach)); x < Math.min(width, cx + reach); x++) {
      const f = factor(x + 0.5 - cx, y + 0.5 - cy);
      if (!f) continue;
      const at = y * width + x;
      for (let c = 0; c < 3; c++) rgb[c]![at] = rgb[c]![at]! * f[c]!;
    }
  }
}

/** A dried drop: darker rim, sometimes with a second one inside, hardly any body. */
export function dropRing(planes: Planes, centre: Spot, radius: number, depth: number, chance: Chance): Decoy {
  const wander = wandering(0.9, chance);
  const uneven = wandering(1.4, chance);
  const inner = chance.yes(0.4) ? chance.between(0.7, 0.88) : 0;
  const soft = chance.between(1.6, 4);
  const warm = chance.between(0.6, 1.6);
  around(planes, centre, radius * 1.3 + 12, (dx, dy) => {
    const angle = Math.atan2(dy, dx);
    const r = Math.hypot(dx, dy) / (1 + 0.05 * wander(angle));
    const rim =
      Math.exp(-(((r - radius) / soft) ** 2)) + 0.5 * Math.exp(-(((r - radius * inner) / soft) ** 2));
    const dark = depth * rim * (0.6 + 0.4 * uneven(angle + 9)) + (r < radius ? depth * 0.08 : 0);
    return dark < 0.0005
      ? null
      : [1 - dark * 0.8, 1 - dark * (0.8 + 0.2 * warm), 1 - dark * (0.8 + 0.5 * warm)];
  });
  return { kind: 'droplet-ring', centroid_px: centre, radius_px: radius };
}

/** A broad stain without edges. */
export function softStain(
  planes: Planes,
  centre: Spot,
  radius: number,
  depth: number,
  chance: Chance,
): Decoy {
  const wander = wandering(1.1, chance);
  const tint = [0.3, chance.between(0.5, 0.9), 1] as const;
  around(planes, centre, radius * 2, (dx, dy) => {
    const r = Math.hypot(dx, dy) / (radius * (1 + 0.2 * wander(Math.atan2(dy, dx))));
    const dark = depth * Math.exp(-2.2 * r * r);
    return dark < 0.0005 ? null : [1 - dark * tint[0], 1 - dark * tint[1], 1 - dark * tint[2]];
  });
  return { kind: 'stain', centroid_px: centre, radius_px: radius };
}

/** A scratch in the membrane: a bright flank beside a dark one, straight, with loose ends. */
export function scoring(planes: Planes, start: Spot, length: number, depth: number, chance: Chance): Decoy {
  const heading = chance.between(0, 6.283);
  const ux = Math.cos(heading);
  const uy = Math.sin(heading);
  const middle: Spot = [start[0] + (ux * length) / 2, start[1] + (uy * length) / 2];
  const sway = wandering(length / 3, chance);
  around(planes, middle, length / 2 + 6, (dx, dy) => {
    const t = dx * ux + dy * uy;
    const end = Math.abs(t) / (length / 2);
    if (end >= 1) return null;
    const d = -dx * uy + dy * ux + 1.5 * sway(t);
    const dark = depth * (1 - end ** 4) * (Math.exp(-((d - 0.7) ** 2)) - 0.9 * Math.exp(-((d + 0.8) ** 2)));
    return Math.abs(dark) < 0.0005 ? null : [1 - dark, 1 - dark, 1 - dark];
  });
  return { kind: 'scratch', centroid_px: middle, radius_px: length / 2 };
}

/** A lamp mirrored by something wet: a burnt-out patch with a soft border. */
export function glare(planes: Planes, centre: Spot, radius: number): Decoy {
  around(planes, centre, radius * 2.2, (dx, dy) => {
    const r = Math.hypot(dx, dy * 1.3) / radius;
    const add = 1.4 * (1 - ramp(0.2, 1.9, r));
    return add < 0.001 ? null : [1 + add, 1 + add, 1 + add];
  });
  return { kind: 'glare', centroid_px: centre, radius_px: radius };
}

export interface FilterEdge {
  readonly centre: Spot;
  readonly radius: number;
  readonly dish: readonly [number, number, number];
}

/** Everything beyond the filter's rim becomes dish: another colour, with a shadow at the rim, smears and crumbs that must not be counted. */
export function dishBeyond(planes: Planes, edge: FilterEdge, chance: Chance): void {
  const { width, height, rgb } = planes;
  const wander = wandering(0.11, chance);
  const smear = [wandering(40, chance), wandering(57, chance)];
  const crumbs = Array.from({ length: 40 }, () => ({
    x: chance.between(0, width),
    y: chance.between(0, height),
    r: chance.between(2, 14),
    v: chance.between(0.3, 1.6),
  }));
  for (let y = 0; y < height; y++) {
    const near = crumbs.filter((k) => Math.abs(k.y - y) < 16);
    for (let x = 0; x < width; x++) {
      const dx = x + 0.5 - edge.centre[0];
      const dy = y + 0.5 - edge.centre[1];
      const r = Math.hypot(dx, dy) - 2 * wander(Math.atan2(dy, dx));
      const out = ramp(edge.radius - 0.7, edge.radius + 0.7, r);
      if (out === 0) continue;
      const shade = 1 - 0.45 * Math.exp(-(r - edge.radius) / 14);
      let lit = shade * (1 + 0.06 * smear[0]!(x + y * 0.4) + 0.05 * smear[1]!(y - x * 0.2));
      for (const k of near) if ((k.x - x) ** 2 + (k.y - y) ** 2 < k.r * k.r) lit *= k.v;
      const at = y * width + x;
      for (let c = 0; c < 3; c++) rgb[c]![at] = rgb[c]![at]! * (1 - out) + edge.dish[c]! * lit * out;
    }
  }
}
