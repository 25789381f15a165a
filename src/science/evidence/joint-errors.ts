/** Several tests on one piece: how likely a pattern of passes and fails is, when tests may err together. */

/** One test on one piece: how often it passes plastic, how often it passes other things, and what it said. */
export interface TestSaid {
  /** Tests of one group err for the same reason (the same eye, the same heat). */
  readonly group: string;
  readonly passesPlastic: number;
  readonly passesOthers: number;
  readonly outcome: 'pass' | 'fail';
}

/**
 * How far tests err together: 0 independent, 1 wholly together. Project choice, no source: tests of one group repeat most of
 * each other, tests of different groups share the piece's size and dirt.
 */
export interface Dependence {
  readonly within: number;
  readonly between: number;
}
export const STATED_DEPENDENCE: Dependence = { within: 0.8, between: 0.2 };
export const INDEPENDENT: Dependence = { within: 0, between: 0 };
export const WHOLLY_TOGETHER: Dependence = { within: 1, between: 1 };

interface Passing {
  readonly group: string;
  readonly passes: number;
  readonly passed: boolean;
}

const alone = (tests: readonly Passing[]): number =>
  tests.reduce((product, { passes, passed }) => product * (passed ? passes : 1 - passes), 1);

/** All tests pass below one shared draw: the least passing chance of those that passed, less the largest that failed. */
function together(tests: readonly Passing[]): number {
  let least = 1;
  let most = 0;
  for (const { passes, passed } of tests) {
    if (passed) least = Math.min(least, passes);
    else most = Math.max(most, passes);
  }
  return Math.max(0, least - most);
}

function patternChance(tests: readonly Passing[], { within, between }: Dependence): number {
  const groups = new Map<string, Passing[]>();
  for (const test of tests) groups.set(test.group, [...(groups.get(test.group) ?? []), test]);
  let apart = 1;
  for (const group of groups.values()) apart *= (1 - within) * alone(group) + within * together(group);
  return (1 - between) * apart + between * together(tests);
}

/**
 * Chance of the whole pattern for plastic and for other things. A share `between` of pieces makes all tests err together,
 * the rest group by group, and within a group a share `within` likewise. For two tests this is a covariance of `within`
 * times the largest possible one.
 * Source: the covariance model of Vacek 1985, Biometrics 41:959, carried to several tests as a mixture (ours).
 * Holds for: any rates; within = between = 0 is plain multiplication.
 * Deceives when: the stated dependence is taken for measured: look at the span between `INDEPENDENT` and `WHOLLY_TOGETHER`.
 */
export function jointChances(
  tests: readonly TestSaid[],
  dependence: Dependence,
): { readonly ifPlastic: number; readonly ifOther: number } {
  for (const share of [dependence.within, dependence.between]) {
    if (!(share >= 0 && share <= 1))
      throw new RangeError(`dependence: a share from 0 to 1 is needed, given ${share}`);
  }
  const of = (rate: (test: TestSaid) => number): readonly Passing[] =>
    tests.map((test) => ({ group: test.group, passes: rate(test), passed: test.outcome === 'pass' }));
  return {
    ifPlastic: patternChance(
      of((test) => test.passesPlastic),
      dependence,
    ),
    ifOther: patternChance(
      of((test) => test.passesOthers),
      dependence,
    ),
  };
}
