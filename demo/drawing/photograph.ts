/**
 * Draws photographs of filters that never were, with the exact truth of what lies on them. Pure: the same recipe
 * gives the same bytes. Everything drawn here is invented.
 */
import { dropletRing, matOver, scratch, stain, tintDisc } from './accidents.ts';
import type { Rgb } from './canvas.ts';
import { type Chance, chanceFrom } from './chance.ts';
import { addPolygon, type Cover, windowAround } from './coverage.ts';
import { blurLens, expose, type Lighting, lightUnevenly } from './exposure.ts';
import { type LaidPiece, layDown } from './laying.ts';
import { type Lens, lensWith } from './lens.ts';
import { membrane } from './membrane.ts';
import { areaOf, centreOf, feretOf, lengthOf, type Spot } from './outline-measures.ts';
import { makePiece, type PieceWish } from './pieces.ts';
import { printSquares } from './print.ts';
import { type Decoy, INVENTED, type PhotoTruth, type TruePiece } from './truth.ts';

export interface PhotoRecipe {
  readonly name: string;
  readonly seed: number;
  readonly width: number;
  readonly height: number;
  readonly umPerPx: number;
  readonly turnDeg: number;
  readonly distortion: number;
  readonly print: {
    pitchMm: number;
    lineUm: number;
    ink: Rgb;
    broken: number;
    /** Columns and rows of squares that should lie around the middle of the photograph; null leaves it to chance. */
    around: readonly [columns: number, rows: number] | null;
  } | null;
  /** Radius of the disc that liquid passed through, with its faint tint: pieces lie within it. Null: all over. */
  readonly discUm: number | null;
  readonly white: Rgb;
  readonly grain: number;
  readonly lighting: Lighting;
  readonly blurPx: number;
  readonly noise: number;
  readonly pieces: readonly PieceWish[];
  readonly rings: number;
  readonly scratches: number;
  readonly stains: number;
  readonly clogged: boolean;
}

export interface DrawnPhoto {
  readonly width: number;
  readonly height: number;
  /** sRGB, three bytes a pixel. */
  readonly pixels: Uint8Array;
  readonly truth: PhotoTruth;
}

/** Draws one photograph and lists what truly lies on it. */
export function drawPhotograph(recipe: PhotoRecipe): DrawnPhoto {
  const { width, height, umPerPx } = recipe;
  const chance = chanceFrom(recipe.seed, 'photograph');
  const turnRad = (recipe.turnDeg * Math.PI) / 180;
  const lens = lensWith(width, height, umPerPx, turnRad, recipe.distortion);
  const canvas = membrane(
    width,
    height,
    { white: recipe.white, grain: recipe.grain },
    chance.branch('membrane'),
  );
  const place = chance.branch('place');
  const pitchUm = (recipe.print?.pitchMm ?? 3.1) * 1000;
  const around = recipe.print?.around;
  const crossing: Spot = around
    ? [
        (around[0] / 2 + place.between(-0.02, 0.02)) * pitchUm,
        (around[1] / 2 + place.between(-0.02, 0.02)) * pitchUm,
      ]
    : [place.between(0, pitchUm), place.between(0, pitchUm)];
  let ink: Cover | null = null;
  if (recipe.print) {
    const print = { ...recipe.print, pitchUm, crossing };
    ink = printSquares(canvas, lens, print, chance.branch('print'));
  }
  if (recipe.discUm) tintDisc(canvas, recipe.discUm / umPerPx, [0.006, 0.014, 0.032], chance.branch('tint'));
  const decoys = accidents(canvas, recipe, chance.branch('accidents'));
  const making = chance.branch('pieces');
  const made = recipe.pieces.map((wish, i) => makePiece(wish, making.branch(`${i}`)));
  const field = {
    halfWidth: (width / 2) * umPerPx,
    halfHeight: (height / 2) * umPerPx,
    turnRad,
    discRadius: recipe.discUm,
  };
  const laid = layDown(made, field, 8 * umPerPx, chance.branch('laying'));
  const angle = place.between(0, 2 * Math.PI);
  const from = { x: Math.cos(angle), y: Math.sin(angle), hardness: place.between(0.8, 1.15) };
  for (const { piece, at } of [...laid].sort((a, b) => depth(a) - depth(b)))
    piece.paint(canvas, lens, at, from);
  if (recipe.clogged) matOver(canvas, recipe.discUm && recipe.discUm / umPerPx, chance.branch('mat'));
  lightUnevenly(canvas, recipe.lighting, chance.branch('light'));
  blurLens(canvas, recipe.blurPx);
  const sensor = { exposure: 1, shot: recipe.noise, read: recipe.noise * 0.25 };
  const pixels = expose(canvas, sensor, chance.branch('sensor'));
  const squares = recipe.print ? wholeSquares(lens, pitchUm, crossing) : [];
  const truth: PhotoTruth = {
    format: 'retentate/drawn-truth/1',
    invented: INVENTED,
    photo: { name: recipe.name, width_px: width, height_px: height },
    seed: recipe.seed,
    scale: {
      um_per_px: umPerPx,
      pitch_mm: recipe.print?.pitchMm ?? null,
      rotation_deg: recipe.turnDeg,
      distortion: recipe.distortion,
    },
    whole_squares: squares.map((q) => q.index),
    clogged: recipe.clogged,
    pieces: laid.map((l, i) => truthOf(l, i + 1, lens, ink, squares)),
    decoys,
  };
  return { width, height, pixels, truth };
}

/** Films and shreds lie beneath, fibres on top. */
const depth = ({ piece }: LaidPiece): number =>
  piece.shape === 'film' ? 0 : piece.origin === 'plant' ? 1 : piece.shape === 'fibre' ? 3 : 2;

function accidents(canvas: Parameters<typeof stain>[0], recipe: PhotoRecipe, chance: Chance): Decoy[] {
  const spot = (): Spot => [chance.between(0, recipe.width), chance.between(0, recipe.height)];
  const decoys: Decoy[] = [];
  for (let i = 0; i < recipe.stains; i++) {
    const colour: Rgb = [0.01, chance.between(0.015, 0.05), chance.between(0.04, 0.12)];
    decoys.push(stain(canvas, spot(), chance.between(60, 170), colour, chance));
  }
  for (let i = 0; i < recipe.rings; i++) {
    decoys.push(dropletRing(canvas, spot(), chance.between(35, 150), chance));
  }
  for (let i = 0; i < recipe.scratches; i++) {
    decoys.push(scratch(canvas, spot(), chance.between(80, 400), chance));
  }
  return decoys;
}

interface WholeSquare {
  readonly index: readonly [number, number];
  readonly x: number;
  readonly y: number;
  readonly pitch: number;
}

/** Squares with all four corners in the photograph, counted from the leftmost column and topmost row of them. */
function wholeSquares(lens: Lens, pitch: number, crossing: Spot): WholeSquare[] {
  const reach = Math.ceil((Math.hypot(lens.width, lens.height) * lens.umPerPx) / pitch) + 1;
  const found: { c: number; r: number }[] = [];
  for (let r = -reach; r <= reach; r++) {
    for (let c = -reach; c <= reach; c++) {
      const corners = [0, 1, 2, 3].map((k) =>
        lens.toPhoto(crossing[0] + (c + (k & 1)) * pitch, crossing[1] + (r + (k >> 1)) * pitch),
      );
      if (corners.every(([x, y]) => x >= 0 && y >= 0 && x <= lens.width && y <= lens.height))
        found.push({ c, r });
    }
  }
  const c0 = Math.min(...found.map((q) => q.c));
  const r0 = Math.min(...found.map((q) => q.r));
  return found.map(({ c, r }) => ({
    index: [c - c0, r - r0] as const,
    x: crossing[0] + c * pitch,
    y: crossing[1] + r * pitch,
    pitch,
  }));
}

const tidy = (p: Spot): Spot => [Math.round(p[0] * 100) / 100, Math.round(p[1] * 100) / 100];

function truthOf(
  laid: LaidPiece,
  id: number,
  lens: Lens,
  ink: Cover | null,
  squares: readonly WholeSquare[],
): TruePiece {
  const { piece, at } = laid;
  const onFilter = piece.outline.map(([x, y]): Spot => [x + at[0], y + at[1]]);
  const outline = onFilter.map(([x, y]) => lens.toPhoto(x, y));
  const line = piece.line?.map(([x, y]) => lens.toPhoto(x + at[0], y + at[1])) ?? null;
  const length = piece.line ? lengthOf(piece.line) : null;
  const width = piece.line ? piece.wish.widthUm! : null;
  const feret = feretOf(onFilter);
  const middle = centreOf(onFilter);
  const square = squares.find(
    (q) => middle[0] >= q.x && middle[0] < q.x + q.pitch && middle[1] >= q.y && middle[1] < q.y + q.pitch,
  );
  return {
    id,
    origin: piece.origin,
    shape: piece.shape,
    colour: piece.colour,
    outline_px: outline.map(tidy),
    centroid_px: tidy(centreOf(outline)),
    area_um2: Math.round(length && width ? length * width : areaOf(onFilter)),
    feret_max_um: Math.round(feret.max * 100) / 100,
    feret_min_um: Math.round(feret.min * 100) / 100,
    feret_max_px: Math.round(feretOf(outline).max * 100) / 100,
    fibre_length_um: length && Math.round(length * 10) / 10,
    fibre_width_um: width && Math.round(width * 100) / 100,
    fibre_line_px: line === null ? null : line.map(tidy),
    on_line: ink !== null && touchesInk(outline, ink),
    cluster: laid.cluster,
    touches_frame: outline.some(([x, y]) => x < 1 || y < 1 || x > lens.width - 1 || y > lens.height - 1),
    square: square?.index ?? null,
  };
}

/** More than a twentieth of the piece lies on the printed line. */
function touchesInk(outline: readonly Spot[], ink: Cover): boolean {
  const body = windowAround(outline, 1);
  addPolygon(body, outline);
  let all = 0;
  let inked = 0;
  for (let y = 0; y < body.height; y++) {
    for (let x = 0; x < body.width; x++) {
      const share = body.share[y * body.width + x]!;
      const px = x + body.left;
      const py = y + body.top;
      if (share === 0 || px < 0 || py < 0 || px >= ink.width || py >= ink.height) continue;
      all += share;
      inked += share * ink.share[py * ink.width + px]!;
    }
  }
  return inked > 0.05 * all;
}
