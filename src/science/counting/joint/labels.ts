import { chanceFrom, drawBinomial } from '../../maths/index.ts';
import { type PermutationOptions, permutationTest } from '../permutation.ts';
import type { SeenRun } from './group-rate.ts';

/** Answer of the relabelling test. */
export interface Relabelling {
  /** Share of all ways to hand out the labels that give the specimen runs at least the pieces they have. */
  readonly p: number;
  /** Smallest p that this many runs can reach. */
  readonly smallest: number;
  readonly method: 'all' | 'drawn' | 'all-after-thinning' | 'drawn-after-thinning';
}

const THINNINGS = 64;
/** Relabellings drawn of each thinning, where there are too many to look at all. */
const DRAWS_OF_EACH = 1000;
/** Fractions closer than this count as equal. */
const SAME_FRACTION = 0.005;

/**
 * Are the specimen runs' counts higher than chance labels would give? Under “no release” the runs are exchangeable,
 * whatever their scatter, so every choice of which runs are “specimen” is as likely as the true one; p is the share of
 * choices whose total is at least the observed total.
 *
 * Runs of unequal fraction are not exchangeable. Each is first thinned by chance to the smallest fraction (a piece is
 * kept with probability smallest/own), which makes them so, and p is averaged over seeded thinnings.
 *
 * Source: Fisher 1935, The Design of Experiments; Pitman 1937, J. R. Stat. Soc. Suppl. 4:119.
 * Holds for: any distribution of counts. Deceives when: runs are not interchangeable for another reason (another day,
 * another bench), and can never fall below 1/(number of choices): 3 + 3 runs reach 0.05, 4 + 4 reach 1/70.
 */
export function relabellingTest(
  specimens: readonly SeenRun[],
  controls: readonly SeenRun[],
  seed = 1,
): Relabelling {
  const runs = [...specimens, ...controls];
  const m = specimens.length;
  if (m === 0 || controls.length === 0) throw new RangeError('relabelling: runs of both kinds are needed');
  let least = 1;
  let most = 0;
  for (const r of runs) {
    least = Math.min(least, r.fraction);
    most = Math.max(most, r.fraction);
  }
  const test = (counts: readonly number[], options: PermutationOptions) =>
    permutationTest(counts.slice(0, m), counts.slice(m), options);
  if (most <= least * (1 + SAME_FRACTION)) {
    const { p, smallestPossible, exhaustive } = test(
      runs.map((r) => r.count),
      { seed },
    );
    return { p, smallest: smallestPossible, method: exhaustive ? 'all' : 'drawn' };
  }
  const chance = chanceFrom(seed);
  let sum = 0;
  let exact = true;
  let smallest = 1;
  for (let i = 0; i < THINNINGS; i++) {
    const thinned = runs.map((r) =>
      r.fraction <= least * (1 + SAME_FRACTION) ? r.count : drawBinomial(chance, r.count, least / r.fraction),
    );
    const { p, smallestPossible, exhaustive } = test(thinned, { chance, draws: DRAWS_OF_EACH });
    sum += p;
    smallest = smallestPossible;
    exact &&= exhaustive;
  }
  return { p: sum / THINNINGS, smallest, method: exact ? 'all-after-thinning' : 'drawn-after-thinning' };
}
