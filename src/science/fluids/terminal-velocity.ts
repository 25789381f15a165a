import { findRoot } from '../maths/index.ts';
import { haiderLevenspielDrag, shapedDrag } from './drag.ts';
import { fallingPiece, type PieceShape } from './piece-shape.ts';
import { FREE_FALL, type Liquid } from './water.ts';

export interface Fall {
  /** mm/s; above 0 the piece sinks, below 0 it rises. */
  readonly velocityMmS: number;
  /** Reynolds number on the sphere of equal volume. */
  readonly reynolds: number;
  /** False above Re 1000 for anything but a sphere: large flat pieces flutter and the figure is a guess. */
  readonly holds: boolean;
}

/**
 * Steady speed of one piece in a still liquid: (π/6)d³·|Δρ|·g = C_D·(π/4)d²·ρ·v²/2, solved for v.
 * Spheres drag as in Haider & Levenspiel 1989, other shapes on the same curve by the similarity of Ganser 1993; a drag law can be given.
 * Errors: RangeError for a size, density or viscosity that is not above 0.
 * Holds for: single pieces far from walls in still liquid. Deceives when: the liquid is stirred by warmth, pieces cling together
 * or carry air bubbles, or the piece is wetted badly and stays on the surface film.
 */
export function terminalVelocity(
  longestUm: number,
  densityKgM3: number,
  liquid: Liquid,
  shape: PieceShape = { kind: 'sphere' },
  drag?: (re: number) => number,
): Fall {
  const { densityKgM3: rho, viscosityMPaS } = liquid;
  for (const [what, value] of [
    ['density of the piece', densityKgM3],
    ['density of the liquid', rho],
    ['viscosity', viscosityMPaS],
  ] as const) {
    if (!(value > 0 && value < Infinity))
      throw new RangeError(`${what}: a number above 0 is needed, given ${value}`);
  }
  const piece = fallingPiece(longestUm, shape);
  const d = piece.equalVolumeUm * 1e-6;
  const mu = viscosityMPaS * 1e-3;
  const pull = (4 / 3) * Math.abs(densityKgM3 - rho) * FREE_FALL * d;
  if (pull === 0) return { velocityMmS: 0, reynolds: 0, holds: true };
  const law =
    drag ?? (shape.kind === 'sphere' ? haiderLevenspielDrag : (re: number) => shapedDrag(re, piece.factors));
  // The drag law times Re² is Re-increasing, so the balance crosses once; log Re keeps the search even.
  const need = (pull * rho * d * d) / (mu * mu);
  const balance = (lnRe: number): number => {
    const re = Math.exp(lnRe);
    return Math.log(law(re) * re * re) - Math.log(need);
  };
  const reynolds = Math.exp(findRoot(balance, Math.log(1e-14), Math.log(1e7)));
  const speed = (reynolds * mu) / (rho * d);
  return {
    velocityMmS: Math.sign(densityKgM3 - rho) * speed * 1000,
    reynolds,
    holds: shape.kind === 'sphere' ? reynolds < 2e5 : reynolds < 1000,
  };
}
