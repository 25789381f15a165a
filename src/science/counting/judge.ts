import { done, type Outcome, refused } from '../../units/index.ts';
import { clopperPearsonInterval } from './binomial-interval.ts';
import { cautionsOf } from './cautions.ts';
import { comparedRules } from './compared-rules.ts';
import { type CountingInput, type CountingRefusal, checkCounts } from './counting-input.ts';
import { currieLimits, LOW_BACKGROUND } from './currie.ts';
import { decidingCount } from './deciding-count.ts';
import { meetsMinimum } from './design-minimum.ts';
import { dispersionTest } from './dispersion.ts';
import { exactDecisionCount, exactDetectionLimit } from './exact-threshold.ts';
import { naturalPiecesKept } from './false-keeps.ts';
import type { Interval } from './interval.ts';
import type { Group, Judgement, Test, Thresholds } from './judgement.ts';
import { sharesOf } from './melded-net.ts';
import { estimateNet } from './net-estimate.ts';
import { rateInterval } from './poisson-interval.ts';
import { testsOf } from './tests-of-runs.ts';

export interface JudgeOptions {
  /** Seed of drawn relabellings, where there are too many to look at all. */
  readonly seed?: number;
}

/** 1 − confidence without the dust of binary fractions, so that p = 1/20 reaches 5 %. */
const levelOf = (confidence: number): number => Number((1 - confidence).toPrecision(12));
const effortOf = (run: { passed: number; examined: number }): number => run.passed * run.examined;
const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);
const ratesOf = (runs: readonly { count: number; passed: number; examined: number }[]): number[] =>
  runs.map((run) => run.count / effortOf(run));

function groupOf(
  runs: readonly { count: number; passed: number; examined: number }[],
  confidence: number,
): Group {
  const count = sum(runs.map((run) => run.count));
  const efforts = runs.map(effortOf);
  const effort = sum(efforts);
  return {
    runs: runs.length,
    count,
    effort,
    perRun: rateInterval(count, effort, confidence),
    scatter:
      runs.length > 1
        ? dispersionTest(
            runs.map((run) => run.count),
            efforts,
          )
        : null,
  };
}

const times = (of: Interval, factor: number): Interval => ({
  value: of.value * factor,
  lower: of.lower * factor,
  upper: of.upper * factor,
  confidence: of.confidence,
});

/** Without the joint model: the same net shared out over the pieces that were looked at. */
function perPieceOf(input: CountingInput, perGram: Interval): Interval | null {
  if (!input.portions.every((p) => p.pieces !== undefined)) return null;
  const grams = sum(input.portions.map((p) => effortOf(p) * p.massG));
  return times(perGram, grams / sum(input.portions.map((p) => effortOf(p) * p.pieces!)));
}

function perNetCount(input: CountingInput): number {
  const share = sharesOf(input).reduce((p, s) => (p * s.found) / s.shown, 1);
  return 1 / (share * sum(input.portions.map((p) => effortOf(p) * p.massG)));
}

function thresholdsOf(
  input: CountingInput,
  specimens: Group,
  controls: Group,
  primary: Test['name'],
): Thresholds {
  const alpha = levelOf(input.confidence);
  const efforts = controls.effort / specimens.effort;
  const expected = controls.count / efforts;
  const decisionCount = exactDecisionCount(controls.count, efforts, alpha);
  const criticalNet = decisionCount - 1 - expected;
  const detectionNet = exactDetectionLimit(expected, decisionCount, alpha);
  const perNet = perNetCount(input);
  const currie = currieLimits(expected, efforts, alpha);
  return {
    decidingCount: decidingCount(input, primary, decisionCount, alpha),
    decisionCount,
    criticalNet,
    detectionNet,
    criticalPerGram: criticalNet * perNet,
    detectionPerGram: detectionNet * perNet,
    currie: {
      criticalNet: currie.critical,
      detectionNet: currie.detection,
      deceives: controls.count < LOW_BACKGROUND,
    },
    alpha,
  };
}

/**
 * Judges counts of specimen runs against counts of matching controls: whether they stand above the background, how much
 * per gram, with every figure's interval. The decision is one-sided at 1 − confidence: by relabelling runs when there
 * are enough of them (any scatter), else by the exact conditional test (Poisson scatter assumed, and said).
 * Sources: on each method's own page.  Deceives when: controls did not go through the same steps.
 */
export function judge(input: CountingInput, options: JudgeOptions = {}): Outcome<Judgement, CountingRefusal> {
  const checked = checkCounts(input);
  if (!checked.ok) return checked;
  const { confidence } = input;
  const alpha = levelOf(confidence);
  const gramsPerPortion =
    sum(input.portions.map((p) => effortOf(p) * p.massG)) / sum(input.portions.map(effortOf));
  const specimens = {
    ...groupOf(input.portions, confidence),
    massG: sum(input.portions.map((p) => p.massG)),
  };
  const controls = groupOf(input.controls, confidence);
  const background = rateInterval(controls.count, controls.effort / specimens.effort, confidence);
  const estimated = estimateNet(input, options.seed);
  if (!estimated.ok) {
    const { why, message } = estimated.refusal;
    // what the joint model asks beyond the checks above is asked of the tested pieces
    return refused({
      why: why === 'below-minimum-design' ? 'no-controls' : why,
      message,
      where: null,
      given: '',
      allowed: '',
    });
  }
  const net = estimated.value;
  const tests = testsOf(input, net.joint, alpha, options.seed ?? 1);
  const aboveBackground = tests.some((t) => t.primary && t.above);
  const share = (pair: readonly [number, number]) => clopperPearsonInterval(pair[0], pair[1], confidence);
  const judgement: Omit<Judgement, 'cautions'> = {
    confidence,
    alpha,
    specimens,
    controls,
    background,
    netCount: specimens.count - background.value,
    netPerGram: net.perGram,
    netPerPortion: net.joint?.perAct ?? times(net.perGram, gramsPerPortion),
    netPerPiece: net.joint?.perPiece ?? perPieceOf(input, net.perGram),
    gramsPerPortion,
    perNetCount: perNetCount(input),
    upperLimitPerGram: net.upperLimit,
    recovery: input.recovery && share([input.recovery.found, input.recovery.added]),
    drill: input.drill && {
      truePositive: share(input.drill.truePositive),
      falsePositive: share(input.drill.falsePositive),
    },
    naturalKept: naturalPiecesKept(input),
    joint: net.joint,
    aboveBackground,
    tests,
    thresholds: thresholdsOf(input, specimens, controls, tests.find((t) => t.primary)!.name),
    comparison: comparedRules(
      {
        specimens: ratesOf(input.portions),
        controls: ratesOf(input.controls),
        specimenCount: specimens.count,
        specimenEffort: specimens.effort,
        controlCount: controls.count,
        controlEffort: controls.effort,
      },
      aboveBackground,
      alpha,
    ),
    meetsMinimum: meetsMinimum(specimens.runs, controls.runs, alpha),
  };
  return done({ ...judgement, cautions: cautionsOf(judgement, input, net) });
}
