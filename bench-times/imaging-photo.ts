/** The 24-megapixel photograph that times are taken on: drawn once, kept in .cache. */
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chanceFrom } from '../demo/drawing/chance.ts';
import { writePhoto } from '../demo/drawing/photo-file.ts';
import { drawPhotograph } from '../demo/drawing/photograph.ts';
import type { PieceWish } from '../demo/drawing/pieces.ts';
import { CACHE, drawingVersion } from '../test/photos/sets-on-disk.ts';

export const PITCH_MM = 3.1;

export async function largePhoto(): Promise<string> {
  const folder = join(CACHE, drawingVersion());
  mkdirSync(folder, { recursive: true });
  const path = join(folder, 'bench-24mp.jpg');
  if (existsSync(path.replace('.jpg', '.truth.json'))) return path;
  const chance = chanceFrom(24, 'bench');
  const pieces = Array.from({ length: 240 }, (): PieceWish => {
    const colour = chance.pick(['blue', 'red', 'black', 'green', 'orange', 'white', 'brown', 'clear']);
    if (chance.yes(0.2)) return { kind: 'fibre', sizeUm: chance.between(300, 2000), colour };
    return {
      kind: chance.pick(['fragment', 'shaving', 'bead', 'film'] as const),
      sizeUm: chance.around(180, 0.7),
      colour,
    };
  });
  const photo = drawPhotograph({
    name: 'bench-24mp.jpg',
    seed: 24,
    width: 6000,
    height: 4000,
    umPerPx: 3.4,
    turnDeg: 1.3,
    distortion: -0.008,
    print: { pitchMm: PITCH_MM, lineUm: 70, ink: [0.62, 0.5, 0.42], broken: 0.05, around: null },
    discUm: null,
    white: [0.78, 0.775, 0.75],
    grain: 0.018,
    lighting: { slopeX: 0.1, slopeY: -0.05, vignette: 0.2, cloud: 0.03, cast: [1, 0.985, 0.95] },
    blurPx: 1.1,
    noise: 0.015,
    pieces,
    rings: 4,
    scratches: 4,
    stains: 4,
    clogged: false,
  });
  await writePhoto(path, photo, 92);
  return path;
}
