import type { CountingInput } from './counting-input.ts';
import { meetsMinimum } from './design-minimum.ts';
import { relabellingTest } from './joint/labels.ts';
import type { NetRelease } from './joint/net-release.ts';
import type { Test } from './judgement.ts';
import { conditionalTest, eTest } from './two-counts.ts';

type Run = CountingInput['controls'][number] | CountingInput['portions'][number];

const effortOf = (run: Run): number => run.passed * run.examined;
const seen = (run: Run): { count: number; fraction: number } => ({
  count: run.count,
  fraction: effortOf(run),
});
const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);

/** Totals beyond which the E-test, which adds nothing there, is left out for its time. */
const E_TEST_UP_TO = 5000;

const LOOKED = {
  all: 'all ways',
  drawn: '20,000 drawn ways',
  'all-after-thinning': 'all ways (runs thinned to the least looked-at one)',
  'drawn-after-thinning': 'drawn ways (runs thinned to the least looked-at one)',
} as const;

/**
 * The tests of an excess, the deciding one marked: relabelling where there are runs enough and they were looked at to
 * like extents; the joint model where extents differ much or a part was confirmed; else the exact conditional test.
 */
export function testsOf(input: CountingInput, joint: NetRelease | null, alpha: number, seed: number): Test[] {
  const { portions, controls } = input;
  const specimenCount = sum(portions.map((run) => run.count));
  const controlCount = sum(controls.map((run) => run.count));
  const counts = [
    specimenCount,
    sum(portions.map(effortOf)),
    controlCount,
    sum(controls.map(effortOf)),
  ] as const;
  const by = meetsMinimum(portions.length, controls.length, alpha) ? joint?.decision.by : undefined;
  const byLabels = by === 'labels';
  const byModel = by === 'model';
  const test = (name: Test['name'], p: number, primary: boolean, says: string, canReach = true): Test => ({
    name,
    p,
    primary,
    above: p <= alpha,
    canReach,
    says,
  });
  const tests = [
    test(
      'conditional-exact',
      conditionalTest(...counts),
      !byLabels && !byModel,
      `Chance of ${specimenCount} or more of the ${specimenCount + controlCount} particles on the specimens’ side if runs and controls had the same rate; runs are assumed to scatter no more than Poisson.`,
    ),
  ];
  if (portions.length > 1 && controls.length > 1) {
    const labels = joint?.decision.labels ?? relabellingTest(portions.map(seen), controls.map(seen), seed);
    tests.push(
      test(
        'permutation',
        labels.p,
        byLabels,
        `Share of ${LOOKED[labels.method]} to hand the labels “specimen” and “control” to these runs that give as large a difference; any scatter between runs is allowed.`,
        labels.smallest <= alpha,
      ),
    );
  }
  if (joint) {
    tests.push(
      test(
        'joint-model',
        joint.decision.modelP,
        byModel,
        'Joint model of counts, scatter between runs on both sides and what was looked at: its unfavourable tail at no release.',
      ),
    );
  }
  if (specimenCount + controlCount <= E_TEST_UP_TO) {
    const says = 'Standardised difference of two Poisson counts, judged at the pooled rate.';
    tests.push(test('e-test', eTest(...counts), false, says));
  }
  return tests;
}
