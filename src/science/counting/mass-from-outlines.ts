import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import { normalUpperQuantile } from '../maths/index.ts';
import type { Interval } from './interval.ts';
import { checkConfidence } from './poisson-interval.ts';

/** An outlined piece as far as its volume goes; lengths in µm. */
export interface OutlinedPiece {
  readonly shape: 'fragment' | 'fibre' | 'film' | 'foam' | 'bead';
  readonly areaUm2: number;
  readonly feretMaxUm: number;
  readonly feretMinUm: number;
  readonly fibreLengthUm: number | null;
  readonly fibreWidthUm: number | null;
}

export interface MassWish {
  /** Density range of what the pieces may be. */
  readonly densityGPerMl: { readonly lowest: number; readonly highest: number };
  /** Smallest piece that is reliably found; smaller ones are left out. */
  readonly sizeFloorUm: number;
  /** Thickness of films, where it was measured. */
  readonly filmThicknessUm: number | null;
  readonly confidence: number;
}

export interface MassRefusal extends Refusal {
  readonly why: 'too-few-pieces' | 'no-size-floor' | 'density-missing';
  readonly pieces: number;
}

export interface MassEstimate {
  readonly micrograms: Interval;
  readonly pieces: number;
  /** Pieces below the size floor, left out. */
  readonly leftOut: number;
  /** Share of the mass that the five largest pieces hold. */
  readonly topFive: number;
}

const FEWEST_PIECES = 10;

/** Volume = factor × smallest Feret × area; mean 0.34, from 0.26 to 0.47. Source: Hagelskjær et al. 2025, Microplastics 4(4). */
const FRAGMENT_FACTOR = 0.34;
const FACTOR_LOWEST = 0.26;
const FACTOR_HIGHEST = 0.47;
/** A single piece's volume is known to a factor of 2 to 3: 2.5 taken as its 95 % reach. Common practice, no source. */
const PIECE_FACTOR = 2.5;
const Z95 = 1.959963984540054;

/** Volume in µm³: sphere, cylinder, sheet, or the fragment rule. */
export function volumeUm3(piece: OutlinedPiece, filmThicknessUm: number | null): number {
  const { shape, areaUm2, feretMinUm } = piece;
  if (shape === 'bead') return (4 / 3 / Math.sqrt(Math.PI)) * areaUm2 ** 1.5;
  if (shape === 'fibre' && piece.fibreLengthUm !== null && piece.fibreWidthUm !== null) {
    return (Math.PI / 4) * piece.fibreWidthUm ** 2 * piece.fibreLengthUm;
  }
  if (shape === 'film' && filmThicknessUm !== null) return areaUm2 * filmThicknessUm;
  return FRAGMENT_FACTOR * feretMinUm * areaUm2;
}

/**
 * Mass of pieces from their outlines, with its wide interval: each piece's volume is uncertain by a factor of 2.5, all of
 * them together by the thickness factor (0.26 to 0.47 about 0.34) and the density range, and the sum by the chance of
 * having met these pieces (large ones count most). Log-normal about the sum.
 * Source: Hagelskjær et al. 2025, Microplastics 4(4) (fragment volume; abstract); cylinder, sphere and sheet by geometry.
 * Holds for: ten pieces and more above the size floor.
 * Deceives when: pieces are flat and lie flat (films without a measured thickness: far too heavy); when a few large pieces
 * hold most of the mass (see `topFive`); for pieces of unknown matter.
 */
export function massFromOutlines(
  pieces: readonly OutlinedPiece[],
  wish: MassWish,
): Outcome<MassEstimate, MassRefusal> {
  checkConfidence(wish.confidence);
  const { lowest, highest } = wish.densityGPerMl;
  const refuse = (why: MassRefusal['why'], message: string): Outcome<never, MassRefusal> =>
    refused({ why, message, pieces: pieces.length });
  if (!(lowest > 0 && highest >= lowest)) {
    return refuse(
      'density-missing',
      `A density range above 0 g/mL is needed for a mass, given ${lowest} to ${highest}.`,
    );
  }
  if (!(wish.sizeFloorUm > 0)) {
    return refuse(
      'no-size-floor',
      'No mass without a size floor: determine how small a piece these optics show.',
    );
  }
  const large = pieces.filter((piece) => piece.feretMaxUm >= wish.sizeFloorUm);
  if (large.length < FEWEST_PIECES) {
    return refuse(
      'too-few-pieces',
      `${large.length} pieces above the size floor of ${wish.sizeFloorUm} µm are too few for a mass: at least ${FEWEST_PIECES} are needed.`,
    );
  }
  const density = Math.sqrt(lowest * highest);
  // 1 µm³ of 1 g/mL weighs 10⁻⁶ µg
  const masses = large.map((piece) => volumeUm3(piece, wish.filmThicknessUm) * density * 1e-6);
  const total = masses.reduce((sum, m) => sum + m, 0);
  const squares = masses.reduce((sum, m) => sum + m * m, 0);
  const ownSigma = Math.log(PIECE_FACTOR) / Z95;
  // met by chance: variance of a sum of a Poisson number of pieces is Σ m²; own error: (e^σ² − 1) Σ m²
  const apart = (squares * Math.exp(ownSigma * ownSigma)) / (total * total);
  const ruled = large.filter((p) => p.shape === 'fragment' || p.shape === 'foam' || p.shape === 'film');
  const ruledMass = ruled.reduce((sum, p) => {
    const measured = p.shape === 'film' && wish.filmThicknessUm !== null;
    return measured ? sum : sum + volumeUm3(p, wish.filmThicknessUm) * density * 1e-6;
  }, 0);
  const factorSigma = ((ruledMass / total) * Math.log(FACTOR_HIGHEST / FACTOR_LOWEST)) / (2 * Z95);
  // evenly spread over the logarithms of its range
  const densitySigma = Math.log(highest / lowest) / Math.sqrt(12);
  const sigma = Math.sqrt(Math.log1p(apart) + factorSigma ** 2 + densitySigma ** 2);
  const reach = Math.exp(normalUpperQuantile((1 - wish.confidence) / 2) * sigma);
  const top = [...masses].sort((a, b) => b - a).slice(0, 5);
  return done({
    micrograms: { value: total, lower: total / reach, upper: total * reach, confidence: wish.confidence },
    pieces: large.length,
    leftOut: pieces.length - large.length,
    topFive: top.reduce((sum, m) => sum + m, 0) / total,
  });
}

export interface MassBalance {
  readonly verdict: 'more than was lost' | 'within what was lost' | 'balance cannot tell';
  /** Released over lost, where a loss was weighed. */
  readonly share: number | null;
  readonly message: string;
}

/**
 * The released mass against the weighed loss of the product: an alarm when even the lower end of the one is above the
 * upper end of the other. A loss that the balance cannot tell from none says nothing either way.
 * Source: conservation of mass; two standard uncertainties of the loss.
 * Deceives when: the product takes up water or dries between the weighings (condition it alike).
 */
export function massBalance(
  releasedUg: Interval,
  lossUg: { readonly value: number; readonly uncertainty: number },
): MassBalance {
  const most = lossUg.value + 2 * lossUg.uncertainty;
  if (releasedUg.lower > Math.max(0, most)) {
    return {
      verdict: 'more than was lost',
      share: lossUg.value > 0 ? releasedUg.value / lossUg.value : null,
      message:
        'The pieces weigh more than the product lost: they come from elsewhere, or sizes, shapes or densities are wrong.',
    };
  }
  if (lossUg.value <= 2 * lossUg.uncertainty) {
    return {
      verdict: 'balance cannot tell',
      share: null,
      message:
        'The loss is within the uncertainty of the balance: it neither confirms nor contradicts the pieces.',
    };
  }
  return {
    verdict: 'within what was lost',
    share: releasedUg.value / lossUg.value,
    message: 'The pieces weigh no more than the product lost.',
  };
}
