/** Recovery by the size of the known pieces, and how evenly pieces lie on what was photographed. */
import { type RecoveryStratum, shareOfSquares, variationBetween } from '../../science/counting/index.ts';
import type { RunForInput } from '../counting-input.ts';
import type { Filter } from '../records/filter.ts';
import { type CountedPiece, type Sides, sizeOf } from './pieces.ts';

/**
 * Spiked runs grouped by the size of their known pieces, with the counted pieces nearest to each in the logarithm of
 * size; none where fewer than two sizes were spiked, or one of them gave nothing back.
 */
export function recoveryStrataOf(runs: readonly RunForInput[], sides: Sides): RecoveryStratum[] {
  const bySize = new Map<number, { found: number; added: number }[]>();
  for (const { run, recovered } of runs) {
    const size = run.spike?.sizeUm ?? null;
    if (run.kind !== 'spiked-run' || size === null || recovered === null) continue;
    if (recovered > run.spike!.added) return [];
    bySize.set(size, [...(bySize.get(size) ?? []), { found: recovered, added: run.spike!.added }]);
  }
  const sizes = [...bySize.keys()].sort((a, b) => a - b);
  if (sizes.length < 2) return [];
  const nearest = (piece: CountedPiece): number => {
    const own = Math.log(sizeOf(piece).sizeUm);
    return sizes.reduce((best, size) =>
      Math.abs(Math.log(size) - own) < Math.abs(Math.log(best) - own) ? size : best,
    );
  };
  const held = (pieces: readonly CountedPiece[], size: number): number =>
    pieces.filter((piece) => nearest(piece) === size).length;
  const strata = sizes.map((size) => ({
    name: `about ${Math.round(size)} µm`,
    spikes: bySize.get(size)!,
    specimens: held(sides.specimens, size),
    controls: held(sides.controls, size),
  }));
  return strata.every(({ spikes }) => spikes.some((spike) => spike.found > 0)) ? strata : [];
}

/** A share examined above this leaves nothing to speak of. */
const NEARLY_ALL = 0.98;

/**
 * Relative uncertainty of what was looked at of a run, from how unevenly its pieces lie over the printed squares that were
 * photographed; null where the whole filter was, no square is printed, or too little was found to tell.
 */
export function extentUncertainty(
  run: RunForInput,
  filters: readonly Filter[],
  pieces: readonly CountedPiece[],
): number | null {
  const [filter] = filters;
  if (run.examined === null || run.examined >= NEARLY_ALL || filters.length !== 1 || !filter?.pitchMm) {
    return null;
  }
  const all = ((Math.PI / 4) * filter.effectiveDiameterMm ** 2) / filter.pitchMm ** 2;
  const looked = Math.round(run.examined * all);
  if (looked < 2) return null;
  const tally = new Map<string, number>();
  for (const { particle } of pieces) {
    const key = `${particle.photo} ${particle.square?.join(' ') ?? 'none'}`;
    tally.set(key, (tally.get(key) ?? 0) + 1);
  }
  if (pieces.length < 5 || tally.size > looked) return null;
  const counts = [...tally.values(), ...new Array<number>(looked - tally.size).fill(0)];
  const share = shareOfSquares(looked, Math.max(looked, all), variationBetween(counts));
  return share.ok ? share.value.uncertainty / share.value.share : null;
}
