import { compactFactor, type DragFactors, inertialFactor, spheroidFactor } from './drag.ts';

/**
 * What a piece of a stated longest size looks like. A size on a filter is a maximum Feret diameter; what falls is a volume.
 */
export type PieceShape =
  | { readonly kind: 'sphere' }
  | { readonly kind: 'fragment' }
  | { readonly kind: 'fibre'; readonly widthUm: number }
  | { readonly kind: 'film'; readonly thicknessUm: number };

export const SHAPE_KINDS = ['sphere', 'fragment', 'fibre', 'film'] as const;
export type ShapeKind = (typeof SHAPE_KINDS)[number];

/** Shapes as they come when nobody says more. Width of a fibre and thickness of a film: common practice, no source. */
export const USUAL_SHAPES: Readonly<Record<ShapeKind, PieceShape>> = {
  sphere: { kind: 'sphere' },
  fragment: { kind: 'fragment' },
  fibre: { kind: 'fibre', widthUm: 15 },
  film: { kind: 'film', thicknessUm: 25 },
};

/** Volume of a fragment over the cube of its longest size. Source: Hagelskjær et al. 2025, Microplastics 4(4) (abstract). */
const FRAGMENT_VOLUME = 0.097;
/** Sphericity of a fragment: common practice, no source (a cube has 0.806, a flake 0.4). */
const FRAGMENT_SPHERICITY = 0.7;

/** A piece as it falls: the sphere of equal volume, and how its shape changes the drag. */
export interface FallingPiece {
  readonly equalVolumeUm: number;
  readonly sphericity: number;
  readonly factors: DragFactors;
}

/**
 * Volume, sphericity and drag factors of a piece of this longest size. A fibre is a cylinder and drags as a rod-like spheroid of
 * the same aspect, a film is a round sheet and drags as a disc-like one, a fragment has 0.097 × size³.
 * A piece shorter than its stated width or thickness is taken to be as wide as it is long.
 */
export function fallingPiece(longestUm: number, shape: PieceShape): FallingPiece {
  if (!(longestUm > 0 && longestUm < Infinity)) {
    throw new RangeError(`size of a piece in µm: a number above 0 is needed, given ${longestUm}`);
  }
  switch (shape.kind) {
    case 'sphere':
      return { equalVolumeUm: longestUm, sphericity: 1, factors: { creeping: 1, inertial: 1 } };
    case 'fragment':
      return made(longestUm ** 3 * FRAGMENT_VOLUME, FRAGMENT_SPHERICITY, compactFactor(FRAGMENT_SPHERICITY));
    case 'fibre': {
      const width = Math.min(positive(shape.widthUm, 'width of a fibre'), longestUm);
      const volume = (Math.PI / 4) * width * width * longestUm;
      const surface = Math.PI * width * longestUm + (Math.PI / 2) * width * width;
      return made(volume, sphericityOf(volume, surface), spheroidFactor(longestUm / width));
    }
    case 'film': {
      const thick = Math.min(positive(shape.thicknessUm, 'thickness of a film'), longestUm);
      const volume = (Math.PI / 4) * longestUm * longestUm * thick;
      const surface = (Math.PI / 2) * longestUm * longestUm + Math.PI * longestUm * thick;
      return made(volume, sphericityOf(volume, surface), spheroidFactor(thick / longestUm));
    }
  }
}

const positive = (value: number, what: string): number => {
  if (!(value > 0 && value < Infinity))
    throw new RangeError(`${what} in µm: a number above 0 is needed, given ${value}`);
  return value;
};

/** Surface of the sphere of equal volume over the surface of the piece. Source: Wadell 1935. */
const sphericityOf = (volume: number, surface: number): number =>
  Math.min(1, (Math.PI ** (1 / 3) * (6 * volume) ** (2 / 3)) / surface);

const made = (volumeUm3: number, sphericity: number, creeping: number): FallingPiece => ({
  equalVolumeUm: ((6 * volumeUm3) / Math.PI) ** (1 / 3),
  sphericity,
  factors: { creeping, inertial: inertialFactor(sphericity) },
});
