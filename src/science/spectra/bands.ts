import { reweightedBaseline } from './baseline.ts';
import { GRIDS, placeOf, toGrid } from './grid.ts';
import { bandsOf, familiesWithBands } from './materials.ts';
import { savitzkyGolay } from './savitzky-golay.ts';
import type { Spectrum, Technique } from './spectrum.ts';

/** A band of the spectrum: where it stands and how high above its base, as a share of the highest. */
export interface Peak {
  readonly at: number;
  readonly height: number;
}

/** How far a band may stand from its published place, cm⁻¹ (common practice, no source). */
const TOLERANCE: Readonly<Record<Technique, number>> = { infrared: 10, raman: 8 };

/** Spectrum on its grid with the base taken off, highest 1: for pictures and bands. */
export function levelled(spectrum: Spectrum): { readonly axis: Float64Array; readonly height: Float64Array } {
  const grid = GRIDS[spectrum.technique];
  const { heights, covered, first, last } = toGrid(spectrum, grid);
  const reached = heights.subarray(first, last + 1);
  const base = reweightedBaseline(reached, { lambda: 1e5 });
  const height = reached.map((v, k) => (covered[first + k] === 1 ? v - base[k]! : 0));
  let top = 0;
  for (const v of height) if (v > top) top = v;
  const axis = Float64Array.from(height, (_, k) => placeOf(grid, first + k));
  return { axis, height: top > 0 ? height.map((v) => v / top) : height };
}

/**
 * Bands: places where the smoothed, levelled spectrum is highest among its neighbours and rises above them by five times
 * the noise and a hundredth of the highest band, whichever is more.
 */
export function peaksOf(spectrum: Spectrum): Peak[] {
  const { axis, height } = levelled(spectrum);
  const smooth = savitzkyGolay(height, 7, 2, 0);
  const rough = Float64Array.from(height, (v, k) => Math.abs(v - smooth[k]!)).sort();
  const noise = 1.4826 * rough[Math.floor(rough.length / 2)]!;
  const least = Math.max(5 * noise, 0.01);
  const peaks: Peak[] = [];
  for (let k = 1; k + 1 < smooth.length; k++) {
    if (!(smooth[k]! > smooth[k - 1]! && smooth[k]! >= smooth[k + 1]!)) continue;
    if (prominence(smooth, k) >= least) peaks.push({ at: axis[k]!, height: smooth[k]! });
  }
  return peaks;
}

/** How far one must come down on the higher of both sides before it rises above this place again. */
function prominence(y: Float64Array, at: number): number {
  let left = y[at]!;
  for (let k = at - 1; k >= 0 && y[k]! <= y[at]!; k--) left = Math.min(left, y[k]!);
  let right = y[at]!;
  for (let k = at + 1; k < y.length && y[k]! <= y[at]!; k++) right = Math.min(right, y[k]!);
  return y[at]! - Math.max(left, right);
}

/** What the published bands say of one family. */
export interface BandWitness {
  readonly family: string;
  /** Published bands that are there. */
  readonly found: readonly number[];
  /** Published bands within the measured range that are not. */
  readonly missing: readonly number[];
  /** Strong bands that the family has no word for, with families that have. */
  readonly unexplained: readonly { readonly at: number; readonly others: readonly string[] }[];
}

/** Bands for and against a family; null where no bands of it are in the table. */
export function witness(
  spectrum: Spectrum,
  peaks: readonly Peak[],
  family: string,
  material: string,
): BandWitness | null {
  const { technique } = spectrum;
  const published = bandsOf(family, technique, material);
  if (published.length === 0) return null;
  const within = TOLERANCE[technique];
  const { from, step, points, masked } = GRIDS[technique];
  const low = Math.max(from, spectrum.axis[0]!) + within;
  const high = Math.min(from + step * (points - 1), spectrum.axis.at(-1)!) - within;
  const visible = published.filter(
    (at) => at >= low && at <= high && !masked.some((m) => at >= m.from && at <= m.to),
  );
  // Broad bands, such as that of hydroxyl, are given room in proportion.
  const near = (band: number, at: number) =>
    Math.abs(band - at) <= (band > 3100 && technique === 'infrared' ? 60 : within);
  const there = (band: number) => peaks.some((peak) => near(band, peak.at));
  const unexplained = peaks
    .filter((peak) => peak.height >= 0.25 && !published.some((band) => near(band, peak.at)))
    .map(({ at }) => ({
      at,
      others: familiesWithBands(technique)
        .filter((f) => f.family !== family && f[technique]!.some((band) => near(band, at)))
        .map((f) => f.family),
    }));
  return {
    family,
    found: visible.filter(there),
    missing: visible.filter((band) => !there(band)),
    unexplained,
  };
}
