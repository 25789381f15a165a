import type { VolumeMark } from './volume-marks.ts';

/** Particles may cover this share of a filter; above it they hide one another and recovery falls. Source: Hagelskjær et al. 2023, Microplast. Nanoplast. (abstract). */
export const MOST_COVER = 0.05;

/**
 * Share of the filter that pieces cover, and how many would cover the most that is advised.
 * Formula: n·ā/A, with ā the mean projected area of one piece. Deceives when: pieces lie in a heap.
 */
export function filterCover(
  pieces: number,
  meanAreaUm2: number,
  filterAreaCm2: number,
): { readonly share: number; readonly mostPieces: number; readonly tooMany: boolean } {
  if (!(pieces >= 0 && meanAreaUm2 > 0 && filterAreaCm2 > 0))
    throw new RangeError(
      `cover: pieces from 0 and areas above 0 are needed, given ${pieces}, ${meanAreaUm2} µm², ${filterAreaCm2} cm²`,
    );
  const one = meanAreaUm2 / (filterAreaCm2 * 1e8);
  const share = pieces * one;
  return { share, mostPieces: Math.floor(MOST_COVER / one), tooMany: share > MOST_COVER };
}

/** Wetted area of a round filter, cm². */
export const discArea = (diameterMm: number): number => (Math.PI / 4) * (diameterMm / 10) ** 2;

/** Diameter of a round filter of this area, mm. */
export const discDiameter = (areaCm2: number): number => 10 * Math.sqrt((4 * areaCm2) / Math.PI);

/**
 * What passes through a small test disc, carried over to a filter of another area: at the same pressure, liquid and membrane the
 * volume at any time grows with the area. Deceives when: the rim of a small disc blocks a share of it, or the test liquid settled.
 */
export function onAnotherArea(
  marks: readonly VolumeMark[],
  fromCm2: number,
  toCm2: number,
): readonly VolumeMark[] {
  if (!(fromCm2 > 0 && toCm2 > 0))
    throw new RangeError(`area in cm²: numbers above 0 are needed, given ${fromCm2} and ${toCm2}`);
  return marks.map(({ timeS, volumeMl }) => ({ timeS, volumeMl: (volumeMl * toCm2) / fromCm2 }));
}

export interface CakeLine {
  /** t/V = slope·V + intercept; slope in s/mL², intercept in s/mL. */
  readonly slopeSMl2: number;
  readonly interceptSMl: number;
}

/** Straight line of t/V on V by least squares: the textbook form of cake filtration. */
export function cakeLine(marks: readonly VolumeMark[]): CakeLine {
  if (marks.length < 2) throw new RangeError(`line: two marks at least are needed, given ${marks.length}`);
  const n = marks.length;
  const y = marks.map(({ timeS, volumeMl }) => timeS / volumeMl);
  const mx = marks.reduce((sum, mark) => sum + mark.volumeMl, 0) / n;
  const my = y.reduce((sum, value) => sum + value, 0) / n;
  const sxx = marks.reduce((sum, mark) => sum + (mark.volumeMl - mx) ** 2, 0);
  const sxy = marks.reduce((sum, mark, i) => sum + (mark.volumeMl - mx) * (y[i]! - my), 0);
  return { slopeSMl2: sxy / sxx, interceptSMl: my - (sxy / sxx) * mx };
}

/**
 * Specific resistance of the cake (m/kg) and resistance of the membrane (1/m) from that line.
 * Formula (Darcy–Ruth): t/V = µ·α·c/(2A²Δp)·V + µ·R_m/(A·Δp). Source: McCabe, Smith & Harriott, Unit Operations.
 */
export function cakeResistance(
  line: CakeLine,
  given: {
    readonly areaCm2: number;
    readonly pressureKPa: number;
    readonly solidsGL: number;
    readonly viscosityMPaS: number;
  },
): { readonly cakeMKg: number; readonly membrane1M: number } {
  const area = given.areaCm2 * 1e-4;
  const pressure = given.pressureKPa * 1000;
  const mu = given.viscosityMPaS * 1e-3;
  const slope = line.slopeSMl2 * 1e12;
  const intercept = line.interceptSMl * 1e6;
  return {
    cakeMKg: (2 * slope * area * area * pressure) / (mu * given.solidsGL),
    membrane1M: (intercept * area * pressure) / mu,
  };
}
