import { done, type Outcome } from '../../units/index.ts';
import { clopperPearsonInterval } from './binomial-interval.ts';
import { cautionsOf } from './cautions.ts';
import { comparedRules } from './compared-rules.ts';
import { type CountingInput, type CountingRefusal, checkCounts } from './counting-input.ts';
import { currieLimits, LOW_BACKGROUND } from './currie.ts';
import { meetsAmountMinimum, meetsMinimum } from './design-minimum.ts';
import { dispersionTest } from './dispersion.ts';
import { exactDecisionCount, exactDetectionLimit } from './exact-threshold.ts';
import { naturalPiecesKept } from './false-keeps.ts';
import type { Group, Judgement, Test, Thresholds } from './judgement.ts';
import { estimateNet, sharesOf } from './net-estimate.ts';
import { permutationTest } from './permutation.ts';
import { rateInterval } from './poisson-interval.ts';
import { conditionalTest, eTest } from './two-counts.ts';

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

/** Totals beyond which the E-test, which adds nothing there, is left out for its time. */
const E_TEST_UP_TO = 5000;

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

function testsOf(input: CountingInput, specimens: Group, controls: Group, options: JudgeOptions): Test[] {
  const alpha = levelOf(input.confidence);
  const byLabels = meetsMinimum(specimens.runs, controls.runs, alpha);
  const counts = [specimens.count, specimens.effort, controls.count, controls.effort] as const;
  const test = (name: Test['name'], p: number, primary: boolean, says: string, canReach = true): Test => ({
    name,
    p,
    primary,
    above: p <= alpha,
    canReach,
    says,
  });
  const tests: Test[] = [
    test(
      'conditional-exact',
      conditionalTest(...counts),
      !byLabels,
      `Chance of ${specimens.count} or more of the ${specimens.count + controls.count} particles on the specimens’ side if runs and controls had the same rate; runs are assumed to scatter no more than Poisson.`,
    ),
  ];
  if (specimens.runs > 1 && controls.runs > 1) {
    const labels = permutationTest(
      ratesOf(input.portions),
      ratesOf(input.controls),
      'greater',
      options.seed ?? 1,
    );
    const looked = labels.exhaustive
      ? `all ${labels.relabellings} ways`
      : `${labels.relabellings} drawn ways`;
    tests.push(
      test(
        'permutation',
        labels.p,
        byLabels,
        `Share of ${looked} to hand the labels “specimen” and “control” to these runs that give as large a difference; any scatter between runs is allowed.`,
        labels.smallestPossible <= alpha,
      ),
    );
  }
  if (specimens.count + controls.count <= E_TEST_UP_TO) {
    tests.push(
      test(
        'e-test',
        eTest(...counts),
        false,
        'Standardised difference of two Poisson counts, judged at the pooled rate.',
      ),
    );
  }
  return tests;
}

function perNetCount(input: CountingInput): number {
  const share = sharesOf(input).reduce((p, s) => (p * s.found) / s.shown, 1);
  return 1 / (share * sum(input.portions.map((p) => effortOf(p) * p.massG)));
}

function thresholdsOf(input: CountingInput, specimens: Group, controls: Group): Thresholds {
  const alpha = levelOf(input.confidence);
  const efforts = controls.effort / specimens.effort;
  const expected = controls.count / efforts;
  const decisionCount = exactDecisionCount(controls.count, efforts, alpha);
  const criticalNet = decisionCount - 1 - expected;
  const detectionNet = exactDetectionLimit(expected, decisionCount, alpha);
  const perNet = perNetCount(input);
  const currie = currieLimits(expected, efforts, alpha);
  return {
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
  const specimens = {
    ...groupOf(input.portions, confidence),
    massG: sum(input.portions.map((p) => p.massG)),
  };
  const controls = groupOf(input.controls, confidence);
  const background = rateInterval(controls.count, controls.effort / specimens.effort, confidence);
  const tests = testsOf(input, specimens, controls, options);
  const aboveBackground = tests.some((t) => t.primary && t.above);
  const net = estimateNet(input);
  const share = (pair: readonly [number, number]) => clopperPearsonInterval(pair[0], pair[1], confidence);
  const judgement: Omit<Judgement, 'cautions'> = {
    confidence,
    alpha,
    specimens,
    controls,
    background,
    netCount: specimens.count - background.value,
    netPerGram: net.perGram,
    gramsPerPortion: sum(input.portions.map((p) => effortOf(p) * p.massG)) / specimens.effort,
    perNetCount: perNetCount(input),
    upperLimitPerGram: net.upperLimit,
    recovery: input.recovery && share([input.recovery.found, input.recovery.added]),
    drill: input.drill && {
      truePositive: share(input.drill.truePositive),
      falsePositive: share(input.drill.falsePositive),
    },
    naturalKept: naturalPiecesKept(input),
    aboveBackground,
    tests,
    thresholds: thresholdsOf(input, specimens, controls),
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
    meetsAmountMinimum: meetsAmountMinimum(specimens.runs, controls.runs),
  };
  return done({ ...judgement, cautions: cautionsOf(judgement, input, net) });
}
