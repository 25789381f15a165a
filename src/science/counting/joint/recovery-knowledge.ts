import { fromDensity, type Knowledge } from './knowledge.ts';

/** One spiked run: known pieces found again of those added. */
export interface Spike {
  readonly found: number;
  readonly added: number;
}

/** Greatest scatter of recovery between spiked runs that is considered, as a share of √(R(1 − R)). */
export const MOST_RECOVERY_SCATTER = 0.5;
const SCATTERS = 8;
const POINTS = 48;
const REACH = 2.6;

/**
 * Recovery over runs like the spiked ones: found ~ beta-binomial with mean R and its own scatter between spiked runs,
 * summed out with an even prior (variance of a run's recovery = τ²R(1 − R), τ even on 0…0.5); Jeffreys' prior on R.
 * With one spiked run, the scatter is all prior.
 *
 * Holds for: pieces counted once each. Deceives when: spike pieces are easier to see, or stick less, than what the
 * product sheds; it says nothing of sizes that were not spiked.
 */
export function recoveryKnowledge(spikes: readonly Spike[]): Knowledge {
  let found = 0;
  let added = 0;
  let mostFound = 0;
  let mostMissed = 0;
  let mostAdded = 0;
  for (const s of spikes) {
    if (
      !(
        Number.isSafeInteger(s.found) &&
        Number.isSafeInteger(s.added) &&
        s.found >= 0 &&
        s.added > 0 &&
        s.found <= s.added
      )
    ) {
      throw new RangeError(
        `spiked run: whole numbers with found at most added are needed, given ${s.found} of ${s.added}`,
      );
    }
    found += s.found;
    added += s.added;
    mostFound = Math.max(mostFound, s.found);
    mostMissed = Math.max(mostMissed, s.added - s.found);
    mostAdded = Math.max(mostAdded, s.added);
  }
  if (added === 0) throw new RangeError('recovery: at least one spiked run is needed');
  const centre = Math.log((found + 0.5) / (added - found + 0.5));
  const p0 = (found + 0.5) / (added + 1);
  const counting = 1 / ((added + 1) * p0 * (1 - p0));
  const between = (MOST_RECOVERY_SCATTER / 2) ** 2 / (spikes.length * p0 * (1 - p0));
  const spread = Math.sqrt(counting + between);
  const at = new Float64Array(POINTS + 1);
  const density = new Float64Array(POINTS + 1);
  const logs: number[][] = [];
  let top = -Infinity;
  const hit = new Float64Array(mostFound + 1);
  const miss = new Float64Array(mostMissed + 1);
  const all = new Float64Array(mostAdded + 1);
  for (let i = 0; i <= POINTS; i++) {
    at[i] = 1 / (1 + Math.exp(-(centre + 0.8 * spread * Math.sinh(-REACH + (2 * REACH * i) / POINTS))));
    logs.push([]);
  }
  for (let t = 0; t < SCATTERS; t++) {
    const tau = (MOST_RECOVERY_SCATTER * (t + 0.5)) / SCATTERS;
    const theta = (tau * tau) / (1 - tau * tau);
    for (let j = 0; j < mostAdded; j++) all[j + 1] = all[j]! + Math.log1p(j * theta);
    for (let i = 0; i <= POINTS; i++) {
      const r = at[i]!;
      for (let j = 0; j < mostFound; j++) hit[j + 1] = hit[j]! + Math.log(r + j * theta);
      for (let j = 0; j < mostMissed; j++) miss[j + 1] = miss[j]! + Math.log(1 - r + j * theta);
      let one = 0;
      for (const s of spikes) one += hit[s.found]! + miss[s.added - s.found]! - all[s.added]!;
      logs[i]!.push(one);
      top = Math.max(top, one);
    }
  }
  for (let i = 0; i <= POINTS; i++) {
    const jeffreys = 1 / Math.sqrt(Math.max(at[i]! * (1 - at[i]!), 1e-12));
    for (const one of logs[i]!) density[i]! += Math.exp(one - top) * jeffreys;
  }
  return fromDensity(at, density);
}
