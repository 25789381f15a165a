import type { Chance } from '../../../demo/drawing/chance.ts';
import type { Lens } from '../../../demo/drawing/lens.ts';
import { addValueNoise, type Planes, ramp, wandering } from './planes.ts';

export interface PrintedGrid {
  readonly pitchUm: number;
  /** Filter coordinates of one crossing, µm. */
  readonly crossing: readonly [number, number];
  readonly lineUm: number;
  /** Light of the ink itself; the print may be lighter than a dark membrane. */
  readonly ink: readonly [number, number, number];
  /** How much of the ground the ink hides, 0 to 1. */
  readonly cover: number;
  readonly edgeUm: number;
  readonly broken: number;
}

/**
 * Prints by looking back from each pixel to the filter and asking how far the nearest line is.
 * Returns the ink's share of each pixel without wear.
 */
export function printGrid(planes: Planes, lens: Lens, grid: PrintedGrid, chance: Chance): Float32Array {
  const { width, height } = planes;
  const share = new Float32Array(width * height);
  const wear = new Float32Array(width * height);
  addValueNoise(wear, width, height, 60, 0.6, chance);
  addValueNoise(wear, width, height, 11, 0.5, chance);
  addValueNoise(wear, width, height, 3, 0.35, chance);
  const wobble = [wandering(1300, chance), wandering(1700, chance)];
  const swell = [wandering(420, chance), wandering(530, chance)];
  const [r, g, b] = planes.rgb;
  const step = 16;
  const columns = Math.ceil(width / step) + 1;
  const filterAt = (c: number, y: number): readonly [number, number] =>
    lens.toFilter(c * step + 0.5, y + 0.5);
  for (let y = 0; y < height; y++) {
    const knots = Array.from({ length: columns }, (_, c) => filterAt(c, y));
    for (let x = 0; x < width; x++) {
      const c = Math.floor(x / step);
      const t = x / step - c;
      const p = knots[c]!;
      const q = knots[Math.min(columns - 1, c + 1)]!;
      const fx = p[0] + (q[0] - p[0]) * t;
      const fy = p[1] + (q[1] - p[1]) * t;
      const a = inkAt(fx - grid.crossing[0], fy, 0, grid, wobble, swell);
      const d = inkAt(fy - grid.crossing[1], fx, 1, grid, wobble, swell);
      const ink = 1 - (1 - a) * (1 - d);
      if (ink < 0.001) continue;
      const i = y * width + x;
      share[i] = ink;
      const worn =
        1 - ramp(1 - 1.7 * grid.broken, 1.25 - 1.7 * grid.broken, wear[i]!) * (grid.broken > 0 ? 1 : 0);
      const dose = ink * worn * grid.cover * (1 + 0.07 * wear[i]!);
      r[i] = r[i]! * (1 - dose) + grid.ink[0] * dose;
      g[i] = g[i]! * (1 - dose) + grid.ink[1] * dose;
      b[i] = b[i]! * (1 - dose) + grid.ink[2] * dose;
    }
  }
  return share;
}

function inkAt(
  across: number,
  along: number,
  family: 0 | 1,
  grid: PrintedGrid,
  wobble: readonly ((t: number) => number)[],
  swell: readonly ((t: number) => number)[],
): number {
  const line = Math.round(across / grid.pitchUm);
  const off = across - line * grid.pitchUm;
  if (Math.abs(off) > grid.lineUm * 1.5 + 3 * grid.edgeUm) return 0;
  const t = along + line * 7919;
  const half = (grid.lineUm / 2) * (1 + 0.1 * swell[family]!(t));
  const d = Math.abs(off + grid.lineUm * 0.04 * wobble[family]!(t));
  return 1 - ramp(half - grid.edgeUm, half + grid.edgeUm, d);
}
