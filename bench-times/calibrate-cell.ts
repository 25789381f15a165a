import { runTrial, type Trial } from '../src/science/counting/planning/trial.ts';
import type { Cell } from './calibrate-cells.ts';
import { PUBLISHED_RULES } from './calibrate-rules.ts';

export interface RuleTally {
  readonly name: string;
  readonly detected: number;
  /** Null: the rule gives no interval. */
  readonly covered: number | null;
}

export interface CellAnswer {
  readonly cell: Cell;
  readonly trial: Trial;
  readonly rules: readonly RuleTally[];
}

/** The share that a goal allows: false detections ≤ 5.5 %, misses of the 95 % interval ≤ 6 %. */
export const FALSE_DETECTIONS = 0.055;
export const MISSES = 0.06;

export const answered = (t: Trial): number => t.studies - t.refused;
export const missRate = (t: Trial): number => (t.missedBelow + t.missedAbove) / answered(t);
export const detectionRate = (t: Trial): number => t.detected / answered(t);
export const standardError = (rate: number, n: number): number =>
  Math.sqrt((Math.max(rate, 1 / n) * (1 - rate)) / n);

/** Cells whose first draw is not clear of a goal by one standard error are drawn again with this many times the studies. */
const AGAIN = 4;

/** Draws one cell; a doubtful one is drawn again, larger, with another seed, and only the second draw is kept. */
export function runCell(cell: Cell): CellAnswer {
  const first = drawCell(cell);
  const { trial } = first;
  const n = answered(trial);
  if (n === 0) return first;
  const near = (rate: number, goal: number): boolean => rate + standardError(rate, n) > goal;
  const doubtful =
    near(missRate(trial), MISSES) ||
    (cell.truth.releasePerGram === 0 && near(detectionRate(trial), FALSE_DETECTIONS));
  return doubtful ? drawCell({ ...cell, seed: cell.seed + 1_000_000, studies: cell.studies * AGAIN }) : first;
}

function drawCell(cell: Cell): CellAnswer {
  const detected = PUBLISHED_RULES.map(() => 0);
  const covered: (number | null)[] = PUBLISHED_RULES.map(() => 0);
  const { truth, layout, studies, seed, errors } = cell;
  const trial = runTrial(truth, layout, { studies, seed, ...(errors ? { errors } : {}) }, (study, answer) => {
    if (!answer) return;
    PUBLISHED_RULES.forEach((rule, i) => {
      const said = rule.answer(study, truth.releasePerGram);
      if (said.above) detected[i]!++;
      const before = covered[i] ?? null;
      covered[i] = said.covers === null || before === null ? null : before + (said.covers ? 1 : 0);
    });
  });
  const rules = PUBLISHED_RULES.map((rule, i) => ({
    name: rule.name,
    detected: detected[i]!,
    covered: covered[i] ?? null,
  }));
  return { cell, trial, rules };
}
