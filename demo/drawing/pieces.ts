import type { Canvas } from './canvas.ts';
import type { Chance } from './chance.ts';
import type { Lens } from './lens.ts';
import { bandAround, type Spot } from './outline-measures.ts';
import { paintFibre } from './paint-fibre.ts';
import { paintBead, paintFoam } from './paint-round.ts';
import { type LightFrom, paintClear, paintSolid } from './paint-solid.ts';
import { carrotColour, colourOf } from './palette.ts';
import {
  beadOutline,
  fibreLine,
  filmOutline,
  foamOutline,
  fragmentOutline,
  tissueOutline,
} from './piece-outlines.ts';
import type { Origin, TruePiece } from './truth.ts';

/** What should lie on the filter. Sizes are maximum Feret diameters; for a fibre, its length. */
export interface PieceWish {
  readonly kind: 'fragment' | 'shaving' | 'fibre' | 'film' | 'foam' | 'bead' | 'tissue' | 'speck' | 'lint';
  readonly sizeUm: number;
  readonly colour: string;
  /** Width of a fibre. */
  readonly widthUm?: number;
  /** Wants to touch the piece named just before it. */
  readonly touching?: boolean;
}

/** A piece ready to be laid down: its form in µm around its own middle, its colours, and how to paint it where it ends up. */
export interface MadePiece {
  readonly wish: PieceWish;
  readonly shape: TruePiece['shape'];
  readonly origin: Origin;
  readonly colour: string;
  readonly outline: readonly Spot[];
  readonly line: readonly Spot[] | null;
  paint(canvas: Canvas, lens: Lens, at: Spot, from: LightFrom): void;
}

const placed = (form: readonly Spot[], at: Spot, lens: Lens): Spot[] =>
  form.map(([x, y]) => lens.toPhoto(at[0] + x, at[1] + y));

/** Makes the piece that is wished for; chance decides the rest of its looks. */
export function makePiece(wish: PieceWish, chance: Chance): MadePiece {
  if (wish.kind === 'fibre' || wish.kind === 'lint') return makeFibre(wish, chance);
  if (wish.kind === 'bead' || wish.kind === 'foam') return makeRound(wish, chance);
  const { outline, shape, origin } = flatForm(wish, chance);
  const carrot = wish.kind === 'tissue' ? carrotColour(chance) : null;
  const colour = carrot?.name ?? wish.colour;
  const looks = chance.branch('looks');
  const albedo = carrot?.albedo ?? colourOf(colour, looks);
  return {
    wish,
    shape,
    origin,
    colour,
    outline,
    line: null,
    paint(canvas, lens, at, from) {
      const points = placed(outline, at, lens);
      if (colour === 'clear') {
        paintClear(canvas, points, wish.kind === 'film' ? 0.55 : 1, from, looks);
        return;
      }
      const soft = wish.kind === 'tissue';
      const film = wish.kind === 'film';
      paintSolid(
        canvas,
        points,
        {
          albedo,
          opacity: soft
            ? looks.between(0.35, 0.75)
            : film
              ? looks.between(0.3, 0.55)
              : looks.between(0.86, 0.98),
          relief: soft ? 0.45 : film ? 0.5 : wish.kind === 'speck' ? 0.4 : looks.between(0.75, 1.25),
          rough: soft ? 0.14 : film ? 0.03 : looks.between(0.03, 0.07),
          gloss: soft || wish.kind === 'speck' ? 0 : looks.between(0.1, 0.6),
          shadow: soft ? 0.12 : film ? 0.1 : looks.between(0.24, 0.4),
          bevel: soft ? 0.13 : film ? 0.03 : looks.between(0.05, 0.1),
        },
        from,
        looks,
      );
    },
  };
}

function flatForm(
  wish: PieceWish,
  chance: Chance,
): { outline: Spot[]; shape: TruePiece['shape']; origin: Origin } {
  switch (wish.kind) {
    case 'film':
      return { outline: filmOutline(wish.sizeUm, chance), shape: 'film', origin: 'synthetic' };
    case 'tissue':
      return { outline: tissueOutline(wish.sizeUm, chance), shape: 'fragment', origin: 'plant' };
    case 'shaving':
      return {
        outline: fragmentOutline(wish.sizeUm, chance.between(0.18, 0.35), chance),
        shape: 'fragment',
        origin: 'synthetic',
      };
    default:
      return {
        outline: fragmentOutline(wish.sizeUm, chance.between(0.5, 0.95), chance),
        shape: 'fragment',
        origin: wish.kind === 'speck' ? 'dust' : 'synthetic',
      };
  }
}

function makeFibre(wish: PieceWish, chance: Chance): MadePiece {
  const lint = wish.kind === 'lint';
  const width = wish.widthUm ?? (lint ? chance.between(9, 16) : chance.between(10, 25));
  const line = fibreLine(wish.sizeUm, lint ? chance.between(4, 9) : chance.between(0.8, 4), chance);
  const looks = chance.branch('looks');
  const albedo = colourOf(wish.colour, looks);
  return {
    wish: { ...wish, widthUm: width },
    shape: 'fibre',
    origin: lint ? 'dust' : 'synthetic',
    colour: wish.colour,
    outline: bandAround(line, () => width / 2),
    line,
    paint(canvas, lens, at, from) {
      paintFibre(
        canvas,
        placed(line, at, lens),
        width / 2 / lens.umPerPx,
        {
          albedo,
          opacity: lint ? looks.between(0.5, 0.75) : looks.between(0.8, 0.97),
          sheen: lint ? 0.15 : looks.between(0.2, 0.7),
          lift: looks.yes(0.5) ? looks.between(0.2, 0.8) : 0,
        },
        from,
        looks,
      );
    },
  };
}

function makeRound(wish: PieceWish, chance: Chance): MadePiece {
  const bead = wish.kind === 'bead';
  const outline = bead ? beadOutline(wish.sizeUm, chance) : foamOutline(wish.sizeUm, chance);
  const looks = chance.branch('looks');
  const albedo = colourOf(wish.colour, looks);
  return {
    wish,
    shape: bead ? 'bead' : 'foam',
    origin: 'synthetic',
    colour: wish.colour,
    outline,
    line: null,
    paint(canvas, lens, at, from) {
      const points = placed(outline, at, lens);
      if (bead)
        paintBead(canvas, points, albedo, wish.colour === 'clear' ? 0.25 : looks.between(0.8, 0.97), from);
      else paintFoam(canvas, points, albedo, Math.max(4, looks.between(28, 45) / lens.umPerPx), from, looks);
    },
  };
}
