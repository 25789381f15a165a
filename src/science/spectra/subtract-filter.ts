import { GRIDS, toGrid } from './grid.ts';
import { savitzkyGolay } from './savitzky-golay.ts';
import type { Spectrum } from './spectrum.ts';

export interface WithoutFilter {
  readonly spectrum: Spectrum;
  /** How much of the filter's spectrum was taken off, 0 where none of it shows. */
  readonly share: number;
}

/**
 * Takes the bare filter's spectrum off one that was measured through or on it. The share is that of their slopes (a
 * slope has no base line in it) by reweighted least squares, never negative; beyond the filter's range nothing is taken off.
 * Holds for: thin pieces, where absorbances add up.
 * Deceives when: the piece is of the filter's own material; what it shares with the filter goes with it.
 * Throws RangeError where one is Raman and the other infrared.
 */
export function withoutFilter(query: Spectrum, filter: Spectrum): WithoutFilter {
  if (query.technique !== filter.technique) {
    throw new RangeError(
      `a ${filter.technique} spectrum of a filter cannot be taken off a ${query.technique} one`,
    );
  }
  const grid = GRIDS[query.technique];
  const q = toGrid(query, grid);
  const f = toGrid(filter, grid);
  const qs = savitzkyGolay(q.heights, 11, 2, 1);
  const fs = savitzkyGolay(f.heights, 11, 2, 1);
  const shared = [...qs.keys()].filter((k) => q.covered[k] === 1 && f.covered[k] === 1);
  const share = Math.max(
    0,
    robustShare(
      shared.map((k) => qs[k]!),
      shared.map((k) => fs[k]!),
    ),
  );
  if (share === 0) return { spectrum: query, share };
  const at = reader(filter);
  const height = query.height.map((v, k) => v - share * at(query.axis[k]!));
  const sentence = `The filter’s own spectrum is taken off, ${share.toPrecision(3)} of it.`;
  return { spectrum: { ...query, height, taken: [...query.taken, sentence] }, share };
}

/** Slope of y on x through nought; points that fit badly (bands of the piece) weigh less with every round. */
function robustShare(y: readonly number[], x: readonly number[]): number {
  let weights = y.map(() => 1);
  let share = 0;
  for (let round = 0; round < 20; round++) {
    let both = 0;
    let own = 0;
    for (const [k, w] of weights.entries()) {
      both += w * y[k]! * x[k]!;
      own += w * x[k]! ** 2;
    }
    if (!(own > 0)) return 0;
    share = both / own;
    const misfit = y.map((v, k) => Math.abs(v - share * x[k]!));
    const scale = 1.4826 * [...misfit].sort((a, b) => a - b)[Math.floor(misfit.length / 2)]!;
    if (!(scale > 0)) return share;
    weights = misfit.map((m) => 1 / (1 + (m / scale) ** 2));
  }
  return share;
}

/** Heights between the points of a spectrum; its ends are held beyond it. Asked in ascending order. */
function reader({ axis, height }: Spectrum): (at: number) => number {
  let k = 0;
  const last = axis.length - 1;
  return (at) => {
    while (k < last - 1 && axis[k + 1]! < at) k++;
    const t = Math.min(1, Math.max(0, (at - axis[k]!) / (axis[k + 1]! - axis[k]!)));
    return height[k]! * (1 - t) + height[k + 1]! * t;
  };
}
