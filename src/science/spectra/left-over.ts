import { levelled } from './bands.ts';
import type { Spectrum } from './spectrum.ts';

/** What a reference leaves unexplained of a spectrum. */
export interface LeftOver {
  readonly axis: Float64Array;
  /** Heights in units of the spectrum's highest band; below nought where the reference has more. */
  readonly height: Float64Array;
  /** Sum of squares left, as a share of the spectrum's. */
  readonly share: number;
}

/**
 * The spectrum with its base taken off, less the reference at the scale that fits it best (least squares, not below nought),
 * where both reach.
 * Deceives when: intensities differ by the way of measuring (depth of the evanescent wave, thickness): the difference is then
 * drawn although nothing else is there.
 * Throws RangeError where the two share no stretch.
 */
export function leftOver(query: Spectrum, reference: Spectrum): LeftOver {
  const q = levelled(query);
  const r = levelled(reference);
  // Both stand on one grid and differ in where they begin.
  const at = new Map<number, number>();
  for (const [k, place] of r.axis.entries()) at.set(place, r.height[k]!);
  const shared = [...q.axis.keys()].filter((k) => at.has(q.axis[k]!));
  if (shared.length === 0) throw new RangeError('left over: the two spectra share no stretch of the axis');
  let both = 0;
  let own = 0;
  let whole = 0;
  for (const k of shared) {
    const [a, b] = [q.height[k]!, at.get(q.axis[k]!)!];
    both += a * b;
    own += b * b;
    whole += a * a;
  }
  const scale = own > 0 ? Math.max(0, both / own) : 0;
  const height = Float64Array.from(shared, (k) => q.height[k]! - scale * at.get(q.axis[k]!)!);
  const left = height.reduce((sum, v) => sum + v * v, 0);
  return {
    axis: Float64Array.from(shared, (k) => q.axis[k]!),
    height,
    share: whole > 0 ? left / whole : 0,
  };
}
