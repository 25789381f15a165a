import type { Spectrum, Technique } from './spectrum.ts';

/** The common axis on which spectra of one technique are compared. */
export interface Grid {
  readonly from: number;
  readonly step: number;
  readonly points: number;
  /** Stretches that say nothing of the material, cm⁻¹. */
  readonly masked: readonly { readonly from: number; readonly to: number; readonly why: string }[];
}

/**
 * Infrared: 650–3994 cm⁻¹ without the air's carbon dioxide (2280–2400, widened for the derivative) and the stretch where
 * a diamond crystal takes most light; Raman: 200–3396 cm⁻¹. Steps of 4 cm⁻¹, the resolution of most such measurements
 * (common practice, no source).
 */
export const GRIDS: Readonly<Record<Technique, Grid>> = {
  infrared: {
    from: 650,
    step: 4,
    points: 837,
    masked: [
      { from: 1900, to: 2200, why: 'diamond of the crystal' },
      { from: 2280, to: 2420, why: 'carbon dioxide of the air' },
      { from: 3800, to: 4000, why: 'water vapour' },
    ],
  },
  raman: { from: 200, step: 4, points: 800, masked: [] },
};

/** Heights on the grid; `covered` is 1 where the spectrum reaches and nothing is masked. */
export interface Gridded {
  readonly heights: Float64Array;
  readonly covered: Uint8Array;
  /** First and last grid point that the spectrum reaches. */
  readonly first: number;
  readonly last: number;
}

/** The wavenumber or shift of a grid point. */
export const placeOf = (grid: Grid, point: number): number => grid.from + grid.step * point;

/**
 * Brings a spectrum to the grid: the mean of the measured points within half a step where there are several, else a
 * straight line between neighbours. Beyond the spectrum the last height is held and marked as not covered.
 */
export function toGrid(spectrum: Spectrum, grid: Grid): Gridded {
  const { axis, height } = spectrum;
  const heights = new Float64Array(grid.points);
  const covered = new Uint8Array(grid.points);
  const last = axis.length - 1;
  let at = 0;
  let first = -1;
  let final = -1;
  for (let g = 0; g < grid.points; g++) {
    const place = placeOf(grid, g);
    if (place < axis[0]! || place > axis[last]!) {
      heights[g] = place < axis[0]! ? height[0]! : height[last]!;
      continue;
    }
    while (at < last && axis[at + 1]! <= place) at++;
    let sum = 0;
    let n = 0;
    for (let k = at; k >= 0 && place - axis[k]! <= grid.step / 2; k--) {
      sum += height[k]!;
      n++;
    }
    for (let k = at + 1; k <= last && axis[k]! - place < grid.step / 2; k++) {
      sum += height[k]!;
      n++;
    }
    if (n >= 3 || at === last) heights[g] = n > 0 ? sum / n : height[last]!;
    else {
      const t = (place - axis[at]!) / (axis[at + 1]! - axis[at]!);
      heights[g] = height[at]! * (1 - t) + height[at + 1]! * t;
    }
    if (first < 0) first = g;
    final = g;
    covered[g] = grid.masked.some((m) => place >= m.from && place <= m.to) ? 0 : 1;
  }
  return { heights, covered, first, last: final };
}
