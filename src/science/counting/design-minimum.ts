import { lnChoose } from '../maths/index.ts';

/** In words, for sentences: the minimum at one-sided 5 %. */
export const MINIMUM_DESIGN = 'at least 4 specimen runs and 4 controls, or 3 of one and 5 of the other';

/** Runs on each side from which the joint model gives an interval that allows for scatter between them. */
export const FEWEST_RUNS = 3;

/**
 * Whether there are runs enough for a decision and an amount that hold whatever the scatter between runs: three on each
 * side (the interval) and a smallest reachable p of relabelling of at most half of alpha (one-sided 5 %: 4 + 4 or 3 + 5).
 * Source: project choice; 3 + 3 can just reach 1/20, 4 + 4 reaches 1/70 (counts of relabellings). Coverage from three
 * runs on: docs/calibration.md.
 */
export function meetsMinimum(specimenRuns: number, controls: number, alpha: number): boolean {
  const fewest = Math.min(specimenRuns, controls);
  return fewest >= FEWEST_RUNS && Math.exp(-lnChoose(specimenRuns + controls, fewest)) <= alpha / 2;
}

/**
 * The fewest runs more, of both kinds together, that reach the minimum; of equals the most even split, which
 * gives the narrowest interval. None when it is reached.
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
    const fewer = (more: (typeof splits)[number]): number =>
      Math.min(specimenRuns + more.specimenRuns, controls + more.controls);
    if (splits.length > 0) return splits.reduce((best, more) => (fewer(more) > fewer(best) ? more : best));
  }
}
