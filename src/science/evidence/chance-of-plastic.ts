import { type Chance, chanceFrom, drawBeta } from '../maths/index.ts';
import {
  type Dependence,
  INDEPENDENT,
  jointChances,
  STATED_DEPENDENCE,
  WHOLLY_TOGETHER,
} from './joint-errors.ts';

/** Known pieces passed, of those shown; may be given as worth of a published rate. */
export interface Tally {
  readonly k: number;
  readonly n: number;
}

export interface UncertainTest {
  readonly group: string;
  readonly plastic: Tally;
  readonly others: Tally;
  readonly outcome: 'pass' | 'fail';
}

export interface ChanceOfPlastic {
  readonly value: number;
  /** From the uncertainty of the rates alone, 90 %. */
  readonly lower: number;
  readonly upper: number;
  /** The value if tests erred independently, and if they erred wholly together: the truth lies between. */
  readonly ifIndependent: number;
  readonly ifTogether: number;
}

const DRAWS = 800;

/** Even prior on each rate. */
const drawRate = (chance: Chance, { k, n }: Tally): number => drawBeta(chance, k + 1, n - k + 1);

/**
 * Chance that a piece is plastic after its tests: Bayes' rule on the chance of the whole pattern under a stated dependence;
 * the rates are drawn from what the drills say of them (seeded), and averaged.
 * Source: Bayes' rule; dependence as in `jointChances`. Without tests it is the prior.
 * Holds for: drill pieces like the piece at hand.
 * Deceives when: the prior is a guess: it is the share before testing, of pieces like this one.
 * Example: prior 0.68, one pass at rates 0.90 and 0.18 (well known) → 0.914.
 */
export function chanceOfPlastic(
  prior: number,
  tests: readonly UncertainTest[],
  dependence: Dependence = STATED_DEPENDENCE,
  seed = 1,
): ChanceOfPlastic {
  if (!(prior >= 0 && prior <= 1))
    throw new RangeError(`prior: a number from 0 to 1 is needed, given ${prior}`);
  if (tests.length === 0)
    return { value: prior, lower: prior, upper: prior, ifIndependent: prior, ifTogether: prior };
  const chance = chanceFrom(seed);
  const drawn = Array.from({ length: DRAWS }, () =>
    tests.map((test) => ({
      group: test.group,
      outcome: test.outcome,
      passesPlastic: drawRate(chance, test.plastic),
      passesOthers: drawRate(chance, test.others),
    })),
  );
  const after = (ifPlastic: number, ifOther: number): number => {
    const seen = prior * ifPlastic + (1 - prior) * ifOther;
    return seen > 0 ? (prior * ifPlastic) / seen : prior;
  };
  const mean = (how: Dependence): number => {
    let ifPlastic = 0;
    let ifOther = 0;
    for (const rates of drawn) {
      const joint = jointChances(rates, how);
      ifPlastic += joint.ifPlastic;
      ifOther += joint.ifOther;
    }
    return after(ifPlastic / DRAWS, ifOther / DRAWS);
  };
  const spread = drawn
    .map((rates) => {
      const joint = jointChances(rates, dependence);
      return after(joint.ifPlastic, joint.ifOther);
    })
    .sort((a, b) => a - b);
  const value = mean(dependence);
  return {
    value,
    lower: Math.min(value, spread[Math.floor(0.05 * DRAWS)]!),
    upper: Math.max(value, spread[Math.floor(0.95 * DRAWS)]!),
    ifIndependent: mean(INDEPENDENT),
    ifTogether: mean(WHOLLY_TOGETHER),
  };
}
