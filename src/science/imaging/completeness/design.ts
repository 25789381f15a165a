/** What is drawn: sizes × shapes × looks, so many of each, in an order that a seed settles. */
import { type Chance, drawBelow } from '../../maths/index.ts';
import { DRAWN_SHAPES, type DrawnShape } from './known-piece.ts';
import type { Look } from './stamp-piece.ts';

/** A named strength of contrast: root mean square change of the three channels, as a share of the membrane's own value. */
export interface NamedContrast {
  readonly name: string;
  readonly change: number;
}

export interface Design {
  /** Maximum Feret diameters, µm. */
  readonly sizesUm: readonly number[];
  readonly shapes: readonly DrawnShape[];
  readonly contrasts: readonly NamedContrast[];
  /** Pieces of each size, shape and contrast over all photographs. */
  readonly each: number;
  readonly fibreWidthUm: number;
  readonly seed: number;
  readonly confidence: number;
  /** Blur of the photographs, px; null: read from their own edges, or 1 px where those tell nothing. */
  readonly blurPx: number | null;
}

/** Project choices: sizes a factor of about 1.6 apart, three contrasts from plain to faint. */
export const USUAL_DESIGN: Design = {
  sizesUm: [20, 32, 50, 80, 125, 200, 320],
  shapes: DRAWN_SHAPES,
  contrasts: [
    { name: 'plain', change: 0.5 },
    { name: 'middling', change: 0.2 },
    { name: 'faint', change: 0.08 },
  ],
  each: 12,
  fibreWidthUm: 15,
  seed: 1,
  confidence: 0.95,
  blurPx: null,
};

export interface Drawn {
  readonly shape: DrawnShape;
  readonly sizeUm: number;
  readonly contrast: NamedContrast;
}

/** Grey, blue, red, green: how the change is shared among R, G and B before it is brought to the wanted strength. */
const TINTS = [
  [1, 1, 1],
  [1, 0.6, 0.1],
  [0.1, 0.9, 1],
  [0.9, 0.15, 0.8],
] as const;

/** A look of the wanted strength in one of four tints; films let the grain through. */
export function lookOf(drawn: Drawn, chance: Chance): Look {
  const tint = TINTS[drawBelow(chance, TINTS.length)]!;
  const rms = Math.sqrt((tint[0] ** 2 + tint[1] ** 2 + tint[2] ** 2) / 3);
  const change = (t: number) => Math.max(-0.95, (-drawn.contrast.change * t) / rms);
  return {
    change: [change(tint[0]), change(tint[1]), change(tint[2])],
    opacity: drawn.shape === 'film' ? 0.2 : 0.9,
  };
}

/** All pieces of a design in shuffled order, so that every photograph gets some of each. */
export function piecesOf(design: Design, chance: Chance): Drawn[] {
  check(design);
  const all: Drawn[] = [];
  for (const shape of design.shapes) {
    for (const sizeUm of design.sizesUm) {
      for (const contrast of design.contrasts) {
        for (let i = 0; i < design.each; i++) all.push({ shape, sizeUm, contrast });
      }
    }
  }
  for (let i = all.length - 1; i > 0; i--) {
    const j = drawBelow(chance, i + 1);
    [all[i], all[j]] = [all[j]!, all[i]!];
  }
  return all;
}

function check(design: Design): void {
  const { sizesUm, contrasts, each, shapes } = design;
  if (sizesUm.length === 0 || !sizesUm.every((s) => s > 0 && Number.isFinite(s))) {
    throw new RangeError(
      `sizes to draw: numbers of µm above 0 are needed, given ${sizesUm.join(', ') || 'none'}`,
    );
  }
  if (shapes.length === 0) throw new RangeError('shapes to draw: at least one is needed, given none');
  if (contrasts.length === 0 || !contrasts.every((c) => c.change > 0 && c.change <= 1)) {
    throw new RangeError(
      `contrasts to draw: above 0 and at most 1 is needed, given ${contrasts.map((c) => c.change).join(', ')}`,
    );
  }
  if (!Number.isSafeInteger(each) || each < 1) {
    throw new RangeError(`pieces of each kind: a whole number from 1 is needed, given ${each}`);
  }
  if (!(design.confidence > 0.5 && design.confidence < 1)) {
    throw new RangeError(`confidence: between 0.5 and 1 is needed, given ${design.confidence}`);
  }
}
