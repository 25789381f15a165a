/** A stitched filter of any size, drawn field by field and never held whole: 20,000 × 20,000 px unless said otherwise. */
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { type Chance, chanceFrom } from '../../demo/drawing/chance.ts';
import { blurLens, expose, lightUnevenly } from '../../demo/drawing/exposure.ts';
import { type Lens, lensWith } from '../../demo/drawing/lens.ts';
import { membrane } from '../../demo/drawing/membrane.ts';
import { centreOf, feretOf, type Spot } from '../../demo/drawing/outline-measures.ts';
import { makePiece, type PieceWish } from '../../demo/drawing/pieces.ts';
import { printSquares } from '../../demo/drawing/print.ts';
import { CACHE, drawingVersion } from './sets-on-disk.ts';
import { tiffOfTiles } from './tiled-tiff.ts';

const FIELD = 2000;
const TILE = 400;
const MARGIN = 12;
const UM_PER_PX = 1.9;
const PITCH_MM = 3.1;

export interface MosaicTruth {
  readonly um_per_px: number;
  readonly pitch_mm: number;
  readonly side_px: number;
  readonly pieces: readonly { centroid_px: Spot; feret_max_um: number; shape: string; colour: string }[];
}

export interface StoredMosaic {
  readonly path: string;
  readonly truth: MosaicTruth;
}

interface Scattered {
  readonly wish: PieceWish;
  readonly at: Spot;
  readonly seed: number;
  readonly reachPx: number;
}

/** Draws the mosaic into the cache unless it is there already; `side` is a multiple of 2000 px. About a minute and a half for 20,000. */
export async function storedMosaic(
  side = 20_000,
  progress: (share: number) => void = () => {},
): Promise<StoredMosaic> {
  if (side % FIELD)
    throw new RangeError(`side of the mosaic: a multiple of ${FIELD} px is needed, given ${side}`);
  const folder = join(CACHE, drawingVersion());
  mkdirSync(folder, { recursive: true });
  const path = join(folder, `mosaic-${side}.tif`);
  const truthPath = join(folder, `mosaic-${side}.truth.json`);
  if (!existsSync(truthPath)) {
    const chance = chanceFrom(404, `mosaic ${side}`);
    const whole = lensWith(side, side, UM_PER_PX, 0.011, 0);
    const pieces = scatter(side, whole, chance.branch('pieces'));
    const writer = tiffOfTiles(`${path}.part`, side, side, TILE);
    const fields = side / FIELD;
    for (let row = 0; row < fields; row++) {
      const strip: Uint8Array[] = [];
      for (let column = 0; column < fields; column++) {
        strip.push(drawField(column, row, whole, pieces, chance.branch(`field ${column} ${row}`)));
        progress((row * fields + column + 1) / fields ** 2);
      }
      for (let top = 0; top < FIELD; top += TILE) {
        for (const pixels of strip) {
          for (let left = 0; left < FIELD; left += TILE) writer.add(await tileOf(pixels, left, top));
        }
      }
    }
    writer.close();
    renameSync(`${path}.part`, path);
    writeFileSync(truthPath, JSON.stringify(truthOf(side, whole, pieces)));
  }
  return { path, truth: JSON.parse(readFileSync(truthPath, 'utf8')) };
}

const tileOf = (pixels: Uint8Array, left: number, top: number): Promise<Buffer> =>
  sharp(pixels, { raw: { width: FIELD, height: FIELD, channels: 3 } })
    .extract({ left, top, width: TILE, height: TILE })
    .jpeg({ quality: 90, chromaSubsampling: '4:2:0' })
    .toBuffer();

/** About three pieces a million pixels, apart by their own size at least, never cut by the frame. */
function scatter(side: number, whole: Lens, chance: Chance): Scattered[] {
  const pieces: Scattered[] = [];
  const wanted = Math.round((3 * side * side) / 1e6);
  for (let attempt = 0; pieces.length < wanted && attempt < wanted * 20; attempt++) {
    const fibre = chance.yes(0.2);
    const sizeUm = fibre ? chance.between(200, 1200) : 40 * 10 ** chance.between(0, 1);
    const wish: PieceWish = {
      kind: fibre ? 'fibre' : chance.pick(['fragment', 'fragment', 'shaving', 'bead'] as const),
      sizeUm,
      colour: chance.pick(['blue', 'red', 'black', 'green', 'orange', 'brown']),
    };
    const reachPx = sizeUm / UM_PER_PX / (fibre ? 1.6 : 1.8) + 14;
    const x = chance.between(reachPx, side - reachPx);
    const y = chance.between(reachPx, side - reachPx);
    const free = pieces.every((p) => {
      const [px, py] = whole.toPhoto(p.at[0], p.at[1]);
      return Math.hypot(px - x, py - y) > p.reachPx + reachPx;
    });
    if (free) pieces.push({ wish, at: whole.toFilter(x, y), seed: chance.whole(1, 2 ** 31), reachPx });
  }
  return pieces;
}

/** One field with a margin for blur, cut out at the end. Pieces are made afresh from their seed, so both sides of a seam agree. */
function drawField(
  column: number,
  row: number,
  whole: Lens,
  pieces: readonly Scattered[],
  chance: Chance,
): Uint8Array {
  const size = FIELD + 2 * MARGIN;
  const left = column * FIELD - MARGIN;
  const top = row * FIELD - MARGIN;
  const origin = whole.toFilter(left + size / 2, top + size / 2);
  const lens = lensWith(size, size, UM_PER_PX, whole.turnRad, 0);
  const canvas = membrane(size, size, { white: [0.78, 0.775, 0.75], grain: 0.02 }, chance);
  const pitchUm = PITCH_MM * 1000;
  const print = {
    pitchUm,
    crossing: [500 - origin[0], 900 - origin[1]] as const,
    lineUm: 70,
    ink: [0.62, 0.5, 0.42] as const,
    broken: 0.05,
  };
  printSquares(canvas, lens, print, chance);
  for (const piece of pieces) {
    const [x, y] = whole.toPhoto(piece.at[0], piece.at[1]);
    const { reachPx } = piece;
    if (x + reachPx < left || y + reachPx < top || x - reachPx > left + size || y - reachPx > top + size)
      continue;
    const made = makePiece(piece.wish, chanceFrom(piece.seed));
    made.paint(canvas, lens, [piece.at[0] - origin[0], piece.at[1] - origin[1]], {
      x: 0.6,
      y: -0.8,
      hardness: 1,
    });
  }
  // A stitched field has its own faint fall-off: what flat-field correction left over.
  lightUnevenly(
    canvas,
    { slopeX: 0.01, slopeY: -0.01, vignette: 0.03, cloud: 0.005, cast: [1, 0.985, 0.95] },
    chance,
  );
  blurLens(canvas, 1);
  const bytes = expose(canvas, { exposure: 1, shot: 0.012, read: 0.003 }, chance);
  const field = new Uint8Array(FIELD * FIELD * 3);
  for (let y = 0; y < FIELD; y++) {
    const from = ((y + MARGIN) * size + MARGIN) * 3;
    field.set(bytes.subarray(from, from + FIELD * 3), y * FIELD * 3);
  }
  return field;
}

function truthOf(side: number, whole: Lens, pieces: readonly Scattered[]): MosaicTruth {
  return {
    um_per_px: UM_PER_PX,
    pitch_mm: PITCH_MM,
    side_px: side,
    pieces: pieces.map(({ wish, at, seed }) => {
      const made = makePiece(wish, chanceFrom(seed));
      const outline = made.outline.map(([x, y]): Spot => [x + at[0], y + at[1]]);
      const [cx, cy] = centreOf(outline);
      return {
        centroid_px: whole.toPhoto(cx, cy),
        feret_max_um: feretOf(outline).max,
        shape: made.shape,
        colour: made.colour,
      };
    }),
  };
}
