import { type Chance, chanceFrom } from './chance.ts';

/** A square of noise that repeats without a seam: mean 0, standard deviation 1. */
export interface NoiseTile {
  readonly size: number;
  readonly values: Float32Array;
}

export const noiseAt = (tile: NoiseTile, x: number, y: number): number => {
  const n = tile.size;
  return tile.values[(((y % n) + n) % n) * n + (((x % n) + n) % n)]!;
};

function blurAround(values: Float32Array, size: number, radius: number): Float32Array {
  const pass = (from: Float32Array, step: number, lineStep: number): Float32Array => {
    const to = new Float32Array(from.length);
    const part = 1 / (2 * radius + 1);
    for (let line = 0; line < size; line++) {
      const at = line * lineStep;
      let sum = 0;
      for (let i = -radius; i <= radius; i++) sum += from[at + ((i + size) % size) * step]!;
      for (let i = 0; i < size; i++) {
        to[at + i * step] = sum * part;
        sum += from[at + ((i + radius + 1) % size) * step]! - from[at + ((i - radius + size) % size) * step]!;
      }
    }
    return to;
  };
  return pass(pass(values, 1, size), size, 1);
}

function standardised(values: Float32Array): Float32Array {
  let mean = 0;
  for (const v of values) mean += v;
  mean /= values.length;
  let square = 0;
  for (const v of values) square += (v - mean) ** 2;
  const scale = 1 / Math.sqrt(square / values.length);
  return values.map((v) => (v - mean) * scale);
}

/** Noise with a correlation length of about 1.6 × radius px; radius 0 is white. */
function cloudTile(size: number, radius: number, chance: Chance): NoiseTile {
  let values: Float32Array = new Float32Array(size * size);
  for (let i = 0; i < values.length; i++) values[i] = chance.normal();
  if (radius > 0) for (let i = 0; i < 3; i++) values = blurAround(values, size, radius);
  return { size, values: standardised(values) };
}

/** Matted cellulose: thousands of short bent hairs, some lighter, some darker than the felt around them. */
function feltTile(size: number, chance: Chance): NoiseTile {
  let values: Float32Array = new Float32Array(size * size);
  for (let hair = 0; hair < (size * size) / 60; hair++) {
    let x = chance.between(0, size);
    let y = chance.between(0, size);
    let heading = chance.between(0, 2 * Math.PI);
    const bend = 0.05 * chance.normal();
    const tone = chance.normal();
    const length = chance.between(8, 36);
    for (let i = 0; i < length; i++) {
      const at = (Math.floor(y + size) % size) * size + (Math.floor(x + size) % size);
      values[at] = values[at]! + tone;
      heading += bend;
      x = (x + Math.cos(heading) + size) % size;
      y = (y + Math.sin(heading) + size) % size;
    }
  }
  values = blurAround(values, size, 1);
  return { size, values: standardised(values) };
}

export interface GrainTiles {
  readonly white: NoiseTile;
  readonly fine: NoiseTile;
  readonly felt: NoiseTile;
  readonly middle: NoiseTile;
  readonly coarse: NoiseTile;
}

let made: GrainTiles | undefined;

/** The tiles, made once a process: sizes share no factor, so their sum repeats only far outside any photograph. */
export function grainTiles(): GrainTiles {
  if (!made) {
    const chance = chanceFrom(20, 'grain');
    made = {
      white: cloudTile(521, 0, chance),
      fine: cloudTile(509, 1, chance),
      felt: feltTile(613, chance),
      middle: cloudTile(431, 3, chance),
      coarse: cloudTile(701, 11, chance),
    };
  }
  return made;
}
