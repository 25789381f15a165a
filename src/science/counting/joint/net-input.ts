import { type Outcome, type Refusal, refused } from '../../../units/index.ts';
import { FEWEST_RUNS } from '../design-minimum.ts';
import type { Spike } from './recovery-knowledge.ts';
import type { RecoveryStratum } from './strata-recovery.ts';
import type { Drill, Tested } from './true-share.ts';

/** A specimen run as counted. */
export interface SpecimenRun {
  readonly count: number;
  /** Share of the run's liquid that passed the filters, and share of the filters' area counted: above 0, at most 1. */
  readonly passed: number;
  readonly examined: number;
  readonly massG: number;
  /** Pieces of product in the portion, where that is a unit of the answer. */
  readonly pieces?: number;
  /** Relative standard uncertainty of passed × examined, where known. */
  readonly effortUncertainty?: number;
}

/** A matching control as counted. */
export interface ControlRun {
  readonly count: number;
  readonly passed: number;
  readonly examined: number;
  readonly effortUncertainty?: number;
}

/** Earlier controls of the laboratory that were run together: they tell how much controls scatter. */
export type EarlierBatch = readonly ControlRun[];

export interface NetInput {
  readonly specimens: readonly SpecimenRun[];
  readonly controls: readonly ControlRun[];
  /** Spiked runs; empty: recovery not measured and not corrected for. */
  readonly spikes: readonly Spike[];
  /** The same spiked runs by size or shape, where pieces of each were counted apart: recovery is then weighed by them. */
  readonly strata?: readonly RecoveryStratum[];
  readonly history?: readonly EarlierBatch[];
  /** A random part of the candidates that was tested, on each side. Counts are then candidates. */
  readonly confirmation?: { readonly specimens: Tested; readonly controls: Tested } | null;
  /** The scorer's or the test's error rates. */
  readonly drill?: Drill | null;
  /** Two-sided confidence of intervals; the decision is one-sided at 1 − confidence. */
  readonly confidence: number;
  /** Seed of thinnings and drawn relabellings. */
  readonly seed?: number;
}

export interface NetRefusal extends Refusal {
  readonly why:
    | 'below-minimum-design'
    | 'count-not-whole'
    | 'fraction-out-of-range'
    | 'mass-missing'
    | 'recovery-not-counts'
    | 'recovery-zero'
    | 'drill-contradicts'
    | 'nothing-tested'
    | 'confidence-out-of-range';
}

const refuse = (why: NetRefusal['why'], message: string): Outcome<never, NetRefusal> =>
  refused({ why, message });

const whole = (n: number): boolean => Number.isSafeInteger(n) && n >= 0;
const share = (x: number): boolean => x > 0 && x <= 1;

/** What keeps these counts from being judged jointly, or null. */
export function refusalOf(input: NetInput): Outcome<never, NetRefusal> | null {
  const { specimens, controls, spikes, confirmation, drill, confidence } = input;
  if (!(confidence > 0.5 && confidence < 1)) {
    return refuse(
      'confidence-out-of-range',
      `The confidence must lie above 0.5 and below 1; given ${confidence}.`,
    );
  }
  if (Math.min(specimens.length, controls.length) < FEWEST_RUNS) {
    return refuse(
      'below-minimum-design',
      `There are ${specimens.length} specimen runs and ${controls.length} controls; how much runs scatter cannot be told from fewer than ${FEWEST_RUNS} on each side: add ${missing(specimens.length, controls.length)}.`,
    );
  }
  for (const [kind, runs] of [
    ['specimen run', specimens],
    ['control', controls],
    ['earlier control', input.history?.flat() ?? []],
  ] as const) {
    for (const [i, run] of runs.entries()) {
      if (!whole(run.count))
        return refuse(
          'count-not-whole',
          `The count of ${kind} ${i + 1} must be a whole number from 0; given ${run.count}.`,
        );
      if (!share(run.passed) || !share(run.examined)) {
        return refuse(
          'fraction-out-of-range',
          `The shares passed and examined of ${kind} ${i + 1} must lie above 0, up to 1; given ${run.passed} and ${run.examined}. A run of which nothing was looked at is left out, not counted as zero.`,
        );
      }
    }
  }
  for (const [i, run] of specimens.entries()) {
    if (!(run.massG > 0 && run.massG < Infinity)) {
      return refuse(
        'mass-missing',
        `The portion's mass of specimen run ${i + 1} must be above 0 g; given ${run.massG}.`,
      );
    }
    if (run.pieces !== undefined && !(run.pieces > 0 && run.pieces < Infinity)) {
      return refuse(
        'mass-missing',
        `The number of pieces in specimen run ${i + 1} must be above 0; given ${run.pieces}.`,
      );
    }
  }
  for (const s of spikes) {
    if (!whole(s.found) || !whole(s.added) || s.added === 0 || s.found > s.added) {
      return refuse(
        'recovery-not-counts',
        `A spiked run needs whole numbers, found at most added; given ${s.found} of ${s.added}.`,
      );
    }
  }
  for (const { name, spikes: own, specimens: held, controls: blank } of input.strata ?? []) {
    const counts = own.every((s) => whole(s.found) && whole(s.added) && s.added > 0 && s.found <= s.added);
    if (!counts || !whole(held) || !whole(blank)) {
      return refuse(
        'recovery-not-counts',
        `The stratum “${name}” needs whole numbers: known pieces found of those added, and pieces counted on either side.`,
      );
    }
    if (own.every((s) => s.found === 0)) {
      return refuse(
        'recovery-zero',
        `No known piece of the stratum “${name}” was found again, so what was lost of it cannot be told: spike it again, or leave its sizes out of the question.`,
      );
    }
  }
  if (spikes.length > 0 && spikes.every((s) => s.found === 0)) {
    return refuse(
      'recovery-zero',
      'No known piece was found again in any spiked run, so what was lost cannot be told: mend the procedure and spike again.',
    );
  }
  if (confirmation) {
    for (const [side, t] of [
      ['specimen', confirmation.specimens],
      ['control', confirmation.controls],
    ] as const) {
      if (!whole(t.tested) || !whole(t.positive) || t.tested === 0 || t.positive > t.tested) {
        return refuse(
          'nothing-tested',
          `Of the ${side} candidates, ${t.positive} of ${t.tested} were called true: at least one candidate of each side must be tested.`,
        );
      }
    }
  }
  if (drill) return drillRefusal(drill);
  return null;
}

function drillRefusal(drill: Drill): Outcome<never, NetRefusal> | null {
  const [hits, shown] = drill.truePositive;
  const [wrong, others] = drill.falsePositive;
  const counts =
    [hits, shown, wrong, others].every(whole) && shown > 0 && others > 0 && hits <= shown && wrong <= others;
  if (counts && hits * others > wrong * shown) return null;
  return refuse(
    'drill-contradicts',
    `The drill (${hits} of ${shown} true pieces kept, ${wrong} of ${others} others kept) does not tell true pieces from others: practise, or use another test.`,
  );
}

function missing(specimens: number, controls: number): string {
  const parts: string[] = [];
  if (specimens < FEWEST_RUNS) parts.push(`${FEWEST_RUNS - specimens} specimen run(s)`);
  if (controls < FEWEST_RUNS) parts.push(`${FEWEST_RUNS - controls} control(s)`);
  return parts.join(' and ');
}
