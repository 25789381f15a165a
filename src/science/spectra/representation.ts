import type { Grid, Gridded } from './grid.ts';
import { savitzkyGolay } from './savitzky-golay.ts';
import type { Technique } from './spectrum.ts';

/** One way of looking at a spectrum: a derivative whose local size is evened out. */
interface View {
  /** Points of the smoothing window. */
  readonly window: number;
  readonly derivative: 1 | 2;
  /** Points over which the local size is taken. */
  readonly even: number;
  /** Share of the whole spectrum's size that is added, so that empty stretches stay small. */
  readonly floor: number;
}

/**
 * Several views are put side by side: a derivative takes baseline and fluorescence away; evening out its local size lets
 * a weak sharp band under a coat of natural matter speak as loudly as the strongest. Windows are those that served best
 * with whole origins left out (docs/methods/spectra.md).
 */
const VIEWS: Readonly<Record<Technique, readonly View[]>> = {
  infrared: [
    { window: 9, derivative: 1, even: 51, floor: 0.01 },
    { window: 13, derivative: 2, even: 25, floor: 0.05 },
    { window: 17, derivative: 1, even: 101, floor: 0.5 },
  ],
  raman: [
    { window: 9, derivative: 1, even: 51, floor: 0.01 },
    { window: 13, derivative: 1, even: 51, floor: 0.1 },
  ],
};

/** How many grid-long parts a representation has. */
export const viewsOf = (technique: Technique): number => VIEWS[technique].length;

/** All views of a spectrum, one after the other on its grid; 0 where it is not covered. */
export function represent({ heights, covered, first, last }: Gridded, technique: Technique): Float64Array {
  const views = VIEWS[technique];
  const n = heights.length;
  const out = new Float64Array(n * views.length);
  const reached = heights.subarray(first, last + 1);
  for (const [v, view] of views.entries()) {
    const window = Math.min(view.window, reached.length - 1 + (reached.length % 2));
    const slope = savitzkyGolay(reached, window, 2, view.derivative);
    const even = evenedOut(slope, view.even, view.floor);
    for (let k = 0; k < even.length; k++) {
      if (covered[first + k] === 1) out[v * n + first + k] = even[k]!;
    }
  }
  return out;
}

function evenedOut(slope: Float64Array, width: number, floor: number): Float64Array {
  const n = slope.length;
  const sums = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) sums[k + 1] = sums[k]! + slope[k]! ** 2;
  const whole = sums[n]! / n;
  const half = (width - 1) / 2;
  return slope.map((v, k) => {
    const from = Math.max(0, k - half);
    const to = Math.min(n, k + half + 1);
    const size = (sums[to]! - sums[from]!) / (to - from) + floor * whole;
    return size > 0 ? v / Math.sqrt(size) : 0;
  });
}

/**
 * Brings each view to mean 0 and length 1 over the points that count, so that the sum of products of two representations,
 * divided by the number of views, is their mean correlation. In place.
 */
export function standardise(views: Float64Array, counts: Uint8Array): void {
  const n = counts.length;
  for (let from = 0; from < views.length; from += n) {
    let sum = 0;
    let weight = 0;
    for (let k = 0; k < n; k++) {
      if (counts[k] === 1) {
        sum += views[from + k]!;
        weight++;
      }
    }
    const mean = weight > 0 ? sum / weight : 0;
    let square = 0;
    for (let k = 0; k < n; k++) {
      const v = counts[k] === 1 ? views[from + k]! - mean : 0;
      views[from + k] = v;
      square += v * v;
    }
    const scale = square > 0 ? 1 / Math.sqrt(square) : 0;
    for (let k = 0; k < n; k++) views[from + k]! *= scale;
  }
}

/** Points of the grid that a covered stretch and no mask leaves. */
export const coveredPoints = (grid: Grid, gridded: Gridded): number =>
  gridded.covered.reduce((sum: number, c) => sum + c, 0) * (grid.points > 0 ? 1 : 0);
