/** The scale that was asked for, and the smallest piece in pixels that follows from it. */
import { type Micrometres, type Refusal, umPerPx, umToPx } from '../../units/index.ts';
import type { Scale, ScaleWish } from './finding.ts';
import type { Lattice } from './scale/lattice.ts';

/** Across fewer pixels than this a piece cannot be told from grain, whatever its contrast. Common practice, no source. */
export const SMALLEST_PX = 4;

export function scaleOf(
  wish: ScaleWish,
  lattice: Lattice | null,
  noLattice: Refusal | null,
): { scale: Scale | null; refusal: Refusal | null } {
  if (wish.from === 'printed-grid') {
    if (!lattice) {
      const why = noLattice?.message ?? 'No printed grid was found.';
      return { scale: null, refusal: { why: 'no-scale', message: why } };
    }
    return {
      scale: {
        umPerPx: lattice.umPerPx,
        relativeUncertainty: lattice.relativeUncertainty,
        basis: 'printed-grid',
        pitch: lattice.pitch,
        rotationDeg: lattice.rotationDeg,
        squares: lattice.squares.filter((s) => s.whole).length,
      },
      refusal: null,
    };
  }
  const none = { pitch: null, rotationDeg: null, squares: null };
  if (wish.from === 'given') {
    return {
      scale: {
        umPerPx: wish.scale,
        relativeUncertainty: wish.relativeUncertainty ?? 0,
        basis: 'given',
        ...none,
      },
      refusal: null,
    };
  }
  if (wish.from === 'two-points') {
    const apart = Math.hypot(wish.a[0] - wish.b[0], wish.a[1] - wish.b[1]);
    if (!(apart > 0)) throw new RangeError('two points: they must lie apart, given the same point twice');
    // Each click is good to about a pixel. Common practice, no source.
    return {
      scale: {
        umPerPx: umPerPx(wish.apart / apart),
        relativeUncertainty: Math.SQRT2 / apart,
        basis: 'two-points',
        ...none,
      },
      refusal: null,
    };
  }
  return {
    scale: null,
    refusal: {
      why: 'no-scale',
      message: 'Sizes are in pixels: no scale was given. Give the pitch of the printed grid, or the scale.',
    },
  };
}

export function floorPxOf(smallest: Micrometres | null, scale: Scale | null): number {
  if (smallest === null || scale === null) return SMALLEST_PX;
  return Math.max(1.5, umToPx(smallest, scale.umPerPx));
}
