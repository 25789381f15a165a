import { blankCanvas, type Canvas, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { grainTiles } from './grain.ts';

export interface MembraneLook {
  /** Light sent back by the bare membrane. */
  readonly white: Rgb;
  /** Standard deviation of the grain as a share of the white. */
  readonly grain: number;
}

/** Bare cellulose membrane: four correlated octaves of grain, one of them felted. */
export function membrane(width: number, height: number, look: MembraneLook, chance: Chance): Canvas {
  const canvas = blankCanvas(width, height);
  const { light } = canvas;
  const tiles = grainTiles();
  const offsets = [0, 1, 2, 3, 4, 5, 6, 7].map(() => chance.whole(0, 400));
  const [r, g, b] = look.white;
  const parts = [
    { tile: tiles.fine, weight: 0.45 * look.grain },
    { tile: tiles.felt, weight: 0.6 * look.grain },
    { tile: tiles.middle, weight: 0.45 * look.grain },
    { tile: tiles.coarse, weight: 0.5 * look.grain },
  ];
  const row = new Float32Array(width);
  for (let y = 0; y < height; y++) {
    row.fill(1);
    parts.forEach(({ tile, weight }, p) => {
      const n = tile.size;
      const line = ((y + offsets[2 * p]!) % n) * n;
      let x = offsets[2 * p + 1]! % n;
      for (let i = 0; i < width; i++) {
        row[i] = row[i]! + weight * tile.values[line + x]!;
        if (++x === n) x = 0;
      }
    });
    for (let i = 0, at = y * width * 3; i < width; i++, at += 3) {
      const v = row[i]!;
      light[at] = r * v;
      light[at + 1] = g * v;
      light[at + 2] = b * v;
    }
  }
  return canvas;
}
