/** The mass that the claim says was shed, against what the product lost on the balance. */
import {
  type Interval,
  type Judgement,
  type MassBalance,
  type MassEstimate,
  massBalance,
} from '../../science/counting/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import type { Weighing } from '../records/weighing.ts';

/** One judged specimen run that was weighed before and after. */
export interface WeighedRun {
  readonly name: string;
  readonly weighing: Weighing;
  /** Of its portion, which the net per gram is multiplied by. */
  readonly massG: number;
}

export interface WeighedLoss {
  readonly value: number;
  /** Standard uncertainty of the sum: two weighings a run. */
  readonly uncertainty: number;
}

/** What the runs lost together, µg; below nought where they gained. Source: JCGM 100:2008 (GUM), 5.1.2. */
export function lossOf(runs: readonly WeighedRun[]): WeighedLoss {
  const lost = ({ weighing }: WeighedRun) => (weighing.beforeG - weighing.afterG) * 1e6;
  return {
    value: runs.reduce((sum, run) => sum + lost(run), 0),
    uncertainty: Math.hypot(...runs.map(({ weighing }) => Math.SQRT2 * weighing.uncertaintyG * 1e6)),
  };
}

/**
 * Mass shed by these runs, µg: net pieces per gram × their grams × mean mass of an outlined piece. Relative widths of net and
 * mass are added in squares on the logarithm; where the net may be nought, so may the mass.
 */
export function massShed(net: Interval, mass: MassEstimate, grams: number): Interval {
  const mean = mass.micrograms.value / mass.pieces;
  const value = Math.max(0, net.value) * grams * mean;
  const width = (netEnd: number, massEnd: number): number =>
    Math.exp(Math.hypot(Math.log(netEnd / net.value), Math.log(massEnd / mass.micrograms.value)));
  const { lower, upper } = mass.micrograms;
  return {
    value,
    lower: net.value > 0 && net.lower > 0 ? value / width(net.lower, lower) : 0,
    upper:
      net.value > 0
        ? value * width(net.upper, upper)
        : (Math.max(0, net.upper) * grams * upper) / mass.pieces,
    confidence: net.confidence,
  };
}

export interface BalancedMass {
  /** The runs that were weighed, by name. */
  readonly runs: readonly string[];
  /** Judged specimen runs that were not: nothing is said of them. */
  readonly notWeighed: readonly string[];
  readonly shedUg: Interval;
  readonly lossUg: WeighedLoss;
  readonly found: MassBalance;
}

export interface BalanceRefusal extends Refusal {
  readonly why: 'not-weighed' | 'no-mass' | 'no-net';
}

/** The alarm of one specimen's judged runs; “not weighed” is a refusal, never a loss of nought. */
export function balanceOf(
  weighed: readonly WeighedRun[],
  notWeighed: readonly string[],
  judged: Outcome<Judgement>,
  mass: Outcome<MassEstimate>,
): Outcome<BalancedMass, BalanceRefusal> {
  if (weighed.length === 0) {
    return refused({
      why: 'not-weighed',
      message:
        'The product was not weighed before and after: whether so much mass can have come from it is not known.',
    });
  }
  if (!judged.ok) return refused({ why: 'no-net', message: judged.refusal.message });
  if (!mass.ok) return refused({ why: 'no-mass', message: mass.refusal.message });
  const grams = weighed.reduce((sum, run) => sum + run.massG, 0);
  const shedUg = massShed(judged.value.netPerGram, mass.value, grams);
  const lossUg = lossOf(weighed);
  return done({
    runs: weighed.map(({ name }) => name),
    notWeighed,
    shedUg,
    lossUg,
    found: massBalance(shedUg, lossUg),
  });
}
