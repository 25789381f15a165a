import { clopperPearsonInterval } from './binomial-interval.ts';
import type { CountingInput } from './counting-input.ts';
import type { Interval } from './interval.ts';

const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);
const effort = (runs: readonly { passed: number; examined: number }[]): number =>
  sum(runs.map((run) => run.passed * run.examined));

/** Pieces looked at on one side, dropped ones too; null when a run does not say. */
export function candidatesOf(runs: readonly { readonly candidates?: number }[]): number | null {
  let all = 0;
  for (const { candidates } of runs) {
    if (candidates === undefined) return null;
    all += candidates;
  }
  return all;
}

/**
 * Natural pieces that may be in the net count: what the scorer keeps of natural pieces in the drill, times the candidates
 * that the specimens have beyond what the controls let expect (those of the controls are subtracted with them).
 * Null without a drill, where a run does not say how many candidates it had, and where a random part was tested: the drill
 * is then of that test, and the share of natural pieces comes from it.
 * Source: Rogan & Gladen 1978 (false-positive part); interval of the drill: Clopper & Pearson 1934.
 * Deceives when: the specimens' natural pieces look more like plastic than those of the drill.
 */
export function naturalPiecesKept(input: CountingInput): Interval | null {
  const { drill, portions, controls, confidence } = input;
  const specimens = candidatesOf(portions);
  const blanks = candidatesOf(controls);
  if (!drill || input.confirmation || specimens === null || blanks === null || controls.length === 0)
    return null;
  const excess = Math.max(0, specimens - (blanks * effort(portions)) / effort(controls));
  const rate = clopperPearsonInterval(drill.falsePositive[0], drill.falsePositive[1], confidence);
  return {
    value: rate.value * excess,
    lower: rate.lower * excess,
    upper: rate.upper * excess,
    confidence,
  };
}

/**
 * True when fewer candidates were kept than the drill says natural pieces alone would give, beyond the uncertainty of
 * both: drill and marks contradict each other, and no share of plastic can be told.
 */
export function belowFalseFloor(input: CountingInput): boolean {
  const candidates = candidatesOf(input.portions);
  if (!input.drill || input.confirmation || candidates === null || candidates === 0) return false;
  const [kept, shown] = input.drill.falsePositive;
  const floor = clopperPearsonInterval(kept, shown, input.confidence).lower;
  const seen = sum(input.portions.map((p) => p.count));
  return clopperPearsonInterval(seen, candidates, input.confidence).upper < floor;
}
