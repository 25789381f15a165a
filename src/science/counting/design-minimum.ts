import { lnChoose } from '../maths/index.ts';

/** In words, for sentences. */
export const MINIMUM_DESIGN = 'at least 4 specimen runs and 4 controls, or 3 and 5';

const FEWEST_RUNS = 3;
/** Runs on each side from which the scatter between runs is known well enough for the interval of an amount. */
export const FEWEST_FOR_AMOUNT = 4;

/** Whether there are runs enough for an amount whose interval allows for scatter between runs. */
export const meetsAmountMinimum = (specimenRuns: number, controls: number): boolean =>
  Math.min(specimenRuns, controls) >= FEWEST_FOR_AMOUNT;

/**
 * Whether there are runs enough to decide by relabelling, whatever the scatter between runs: three on each side and
 * a smallest reachable p of at most half of alpha (one-sided 5 %: 4 + 4 or 3 + 5).
 * Source: project choice; 3 + 3 can just reach 1/20, 4 + 4 reaches 1/70 (counts of relabellings).
 */
export function meetsMinimum(specimenRuns: number, controls: number, alpha: number): boolean {
  const fewest = Math.min(specimenRuns, controls);
  return fewest >= FEWEST_RUNS && Math.exp(-lnChoose(specimenRuns + controls, fewest)) <= alpha / 2;
}

/**
 * The fewest runs more, of both kinds together, that reach the minimum; of equals the split that allows an amount too,
 * else the one with most controls. None when it is reached.
 */
export function runsMissing(
  specimenRuns: number,
  controls: number,
  alpha: number,
): { readonly controls: number; readonly specimenRuns: number } {
  for (let all = 0; ; all++) {
    const splits = Array.from({ length: all + 1 }, (_, more) => ({
      specimenRuns: more,
      controls: all - more,
    })).filter((more) => meetsMinimum(specimenRuns + more.specimenRuns, controls + more.controls, alpha));
    const best = splits.find((more) =>
      meetsAmountMinimum(specimenRuns + more.specimenRuns, controls + more.controls),
    );
    if (splits.length > 0) return best ?? splits[0]!;
  }
}
