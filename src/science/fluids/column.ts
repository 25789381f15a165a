import { densityRange, type Material } from './materials.ts';
import type { PieceShape } from './piece-shape.ts';
import { terminalVelocity } from './terminal-velocity.ts';
import type { Liquid } from './water.ts';

/** A vessel of still liquid in which pieces were spread evenly at the start. */
export interface Column {
  readonly liquid: Liquid;
  readonly heightMm: number;
}

/** Shares of one kind of piece after a time; they add up to 1. */
export interface Whereabouts {
  readonly sediment: number;
  readonly between: number;
  readonly floating: number;
}

function checked({ heightMm }: Column): number {
  if (!(heightMm > 0 && heightMm < Infinity))
    throw new RangeError(`height in mm: a number above 0 is needed, given ${heightMm}`);
  return heightMm;
}

/**
 * Time until the last piece of this speed has crossed the whole height, s. Null where it does not move.
 * Formula: height / |v|.
 */
export function timeToClear(column: Column, velocityMmS: number): number | null {
  const height = checked(column);
  return velocityMmS === 0 ? null : height / Math.abs(velocityMmS);
}

/**
 * Where evenly spread pieces of one speed are after a time: v·t/h of them have arrived, at most all.
 * Holds for: a still column of even cross-section, few pieces. Deceives when: the column cools or warms (its own flow outruns
 * pieces slower than some 0.1 mm/s: common practice, no source), a tube narrows, or pieces cling together.
 */
export function whereabouts(column: Column, velocityMmS: number, seconds: number): Whereabouts {
  if (!(seconds >= 0)) throw new RangeError(`time in s: a number from 0 is needed, given ${seconds}`);
  const arrived = Math.min(1, (Math.abs(velocityMmS) * seconds) / checked(column));
  return {
    sediment: velocityMmS > 0 ? arrived : 0,
    between: 1 - (velocityMmS === 0 ? 0 : arrived),
    floating: velocityMmS < 0 ? arrived : 0,
  };
}

/** One material and size after a time. The range of printed densities makes every figure a range. */
export interface MapCell {
  readonly material: Material;
  readonly sizeUm: number;
  /** Slowest and fastest of the printed densities, signed, mm/s. */
  readonly velocityMmS: readonly [number, number];
  /** Lowest and highest share in the sediment, and floating, over the printed densities. */
  readonly sediment: readonly [number, number];
  readonly floating: readonly [number, number];
  /** Seconds to clear the height at the slowest density; null where some printed density does not move. */
  readonly clearsInS: number | null;
  readonly verdict: 'sediment' | 'floats' | 'partly-down' | 'partly-up' | 'between' | 'undecided';
  readonly holds: boolean;
}

/** From this share on a fraction counts as whole, and below the rest of it as none. Common practice, no source. */
const WHOLE = 0.95;

/**
 * Size × density map: what the sediment holds, what floats and what is still in between after a time.
 * `undecided` where the printed densities of a material lie on both sides of the liquid's.
 */
export function settlingMap(
  column: Column,
  seconds: number,
  materials: readonly Material[],
  sizesUm: readonly number[],
  shape: PieceShape,
): readonly (readonly MapCell[])[] {
  return materials.map((material) => sizesUm.map((size) => mapCell(column, seconds, material, size, shape)));
}

export function mapCell(
  column: Column,
  seconds: number,
  material: Material,
  sizeUm: number,
  shape: PieceShape,
): MapCell {
  const falls = densityRange(material).map((density) =>
    terminalVelocity(sizeUm, density, column.liquid, shape),
  );
  const [low, high] = [falls[0]!.velocityMmS, falls[1]!.velocityMmS];
  const at = [low, high].map((v) => whereabouts(column, v, seconds));
  const span = (of: (w: Whereabouts) => number): readonly [number, number] => {
    const shares = at.map(of);
    return [Math.min(...shares), Math.max(...shares)];
  };
  const sediment = span((w) => w.sediment);
  const floating = span((w) => w.floating);
  const bothSides = low < 0 !== high < 0 || low === 0 || high === 0;
  const slowest = Math.min(Math.abs(low), Math.abs(high));
  return {
    material,
    sizeUm,
    velocityMmS: [low, high],
    sediment,
    floating,
    clearsInS: bothSides ? null : timeToClear(column, slowest),
    verdict: bothSides ? 'undecided' : verdictOf(sediment[0], floating[0]),
    holds: falls.every((fall) => fall.holds),
  };
}

function verdictOf(sediment: number, floating: number): MapCell['verdict'] {
  if (sediment >= WHOLE) return 'sediment';
  if (floating >= WHOLE) return 'floats';
  if (sediment > 1 - WHOLE) return 'partly-down';
  return floating > 1 - WHOLE ? 'partly-up' : 'between';
}
