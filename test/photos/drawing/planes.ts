import type { Chance } from '../../../demo/drawing/chance.ts';

/** Three planes of linear light; 1 is a perfectly white sheet. */
export interface Planes {
  readonly width: number;
  readonly height: number;
  readonly rgb: readonly [Float32Array, Float32Array, Float32Array];
}

export function newPlanes(width: number, height: number): Planes {
  const plane = (): Float32Array => new Float32Array(width * height);
  return { width, height, rgb: [plane(), plane(), plane()] };
}

/** Value noise: random heights on a square lattice of `cell` px, joined by smooth steps; mean 0, about ±1. */
export function addValueNoise(
  into: Float32Array,
  width: number,
  height: number,
  cell: number,
  amount: number,
  chance: Chance,
): void {
  const columns = Math.ceil(width / cell) + 2;
  const rows = Math.ceil(height / cell) + 2;
  const lattice = new Float32Array(columns * rows);
  for (let i = 0; i < lattice.length; i++) lattice[i] = chance.between(-1.7, 1.7) * amount;
  const shiftX = chance.next();
  const shiftY = chance.next();
  for (let y = 0; y < height; y++) {
    const v = y / cell + shiftY;
    const r = Math.floor(v);
    const fy = smooth(v - r);
    for (let x = 0; x < width; x++) {
      const u = x / cell + shiftX;
      const c = Math.floor(u);
      const fx = smooth(u - c);
      const at = r * columns + c;
      const above = lattice[at]! + (lattice[at + 1]! - lattice[at]!) * fx;
      const below = lattice[at + columns]! + (lattice[at + columns + 1]! - lattice[at + columns]!) * fx;
      into[y * width + x] = into[y * width + x]! + above + (below - above) * fy;
    }
  }
}

const smooth = (t: number): number => t * t * (3 - 2 * t);

/** One-dimensional value noise, about ±1, for wandering along a line. */
export function wandering(period: number, chance: Chance): (t: number) => number {
  const knots = Array.from({ length: 257 }, () => chance.between(-1.5, 1.5));
  const shift = chance.between(0, 256);
  return (t) => {
    const u = (((t / period + shift) % 256) + 256) % 256;
    const i = Math.floor(u);
    const f = smooth(u - i);
    return knots[i]! + (knots[i + 1]! - knots[i]!) * f;
  };
}

/** 0 below `low`, 1 above `high`, smooth between. */
export function ramp(low: number, high: number, v: number): number {
  const t = Math.min(1, Math.max(0, (v - low) / (high - low)));
  return smooth(t);
}
