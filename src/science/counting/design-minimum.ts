import { lnChoose } from '../maths/index.ts';

/** In words, for sentences. */
export const MINIMUM_DESIGN = 'at least 4 specimen runs and 4 controls, or 3 and 5';

const FEWEST_RUNS = 3;

/**
 * Whether there are runs enough to decide by relabelling, whatever the scatter between runs: three on each side and
 * a smallest reachable p of at most half of alpha (one-sided 5 %: 4 + 4 or 3 + 5).
 * Source: project choice; 3 + 3 can just reach 1/20, 4 + 4 reaches 1/70 (counts of relabellings).
 */
export function meetsMinimum(specimenRuns: number, controls: number, alpha: number): boolean {
  const fewest = Math.min(specimenRuns, controls);
  return fewest >= FEWEST_RUNS && Math.exp(-lnChoose(specimenRuns + controls, fewest)) <= alpha / 2;
}

/** How many more controls, and how many more specimen runs alone, would reach the minimum (0: it is reached). */
export function runsMissing(
  specimenRuns: number,
  controls: number,
  alpha: number,
): { readonly controls: number; readonly specimenRuns: number } {
  const missing = (more: (n: number) => boolean): number => {
    let n = 0;
    while (!more(n)) n++;
    return n;
  };
  const least = Math.max(specimenRuns, FEWEST_RUNS);
  const leastControls = Math.max(controls, FEWEST_RUNS);
  return {
    controls: missing((n) => meetsMinimum(least, controls + n, alpha)),
    specimenRuns: missing((n) => meetsMinimum(specimenRuns + n, leastControls, alpha)),
  };
}
