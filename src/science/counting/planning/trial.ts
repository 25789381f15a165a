import { chanceFrom } from '../../maths/index.ts';
import type { NetInput } from '../joint/net-input.ts';
import { judge } from '../judge.ts';
import type { Judgement } from '../judgement.ts';
import { asCounts } from './as-counted.ts';
import { drawStudy, type Errors, type Layout, type Truth } from './virtual-study.ts';

/** What many virtual studies of one truth and layout came to. */
export interface Trial {
  readonly studies: number;
  /** Studies that may claim nothing, by too few runs or by a refusal (they count nowhere below). */
  readonly refused: number;
  readonly detected: number;
  /** True release below the interval, and above it. */
  readonly missedBelow: number;
  readonly missedAbove: number;
  /** True release above the one-sided upper limit. */
  readonly aboveLimit: number;
  /** Sum of widths, and of estimates. */
  readonly meanWidth: number;
  readonly medianWidth: number;
  readonly meanValue: number;
  readonly medianValue: number;
}

/** Looks at every study of a trial, with the answer where there was one. */
export type Onlooker = (study: NetInput, answer: Judgement | null) => void;

/**
 * Draws studies from a truth and judges each as a laboratory's own study is judged. The same seed gives the same studies, so that two
 * layouts or two rules can be compared on common chance.
 */
export function runTrial(
  truth: Truth,
  layout: Layout,
  facts: {
    readonly studies: number;
    readonly seed: number;
    readonly confidence?: number;
    readonly errors?: Errors;
  },
  onlooker?: Onlooker,
): Trial {
  const { studies, seed, errors, confidence = 0.95 } = facts;
  const chance = chanceFrom(seed);
  let detected = 0;
  let missedBelow = 0;
  let missedAbove = 0;
  let aboveLimit = 0;
  const values: number[] = [];
  const widths: number[] = [];
  for (let i = 0; i < studies; i++) {
    const study: NetInput = { ...drawStudy(chance, truth, layout, errors), confidence, seed: i + 1 };
    const judged = judge(asCounts(study, confidence), { seed: i + 1 });
    const answer = judged.ok && judged.value.meetsMinimum ? judged.value : null;
    onlooker?.(study, answer);
    if (!answer) continue;
    const { netPerGram: perGram, aboveBackground, upperLimitPerGram } = answer;
    const truly = truth.releasePerGram;
    if (aboveBackground) detected++;
    if (truly < perGram.lower) missedBelow++;
    if (truly > perGram.upper) missedAbove++;
    if (truly > upperLimitPerGram) aboveLimit++;
    values.push(perGram.value);
    widths.push(perGram.upper - perGram.lower);
  }
  return {
    studies,
    refused: studies - values.length,
    detected,
    missedBelow,
    missedAbove,
    aboveLimit,
    meanWidth: mean(widths),
    medianWidth: median(widths),
    meanValue: mean(values),
    medianValue: median(values),
  };
}

const mean = (list: readonly number[]): number =>
  list.length === 0 ? 0 : list.reduce((s, x) => s + x, 0) / list.length;

function median(list: readonly number[]): number {
  if (list.length === 0) return 0;
  const sorted = [...list].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
