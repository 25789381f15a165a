import { amountChance } from './amount.ts';
import { chanceToSee, STUDIES } from './detection.ts';
import { expectedUncertainty, varianceOf } from './expected-uncertainty.ts';
import { type Design, hoursOf, type PlanWish } from './plan-wish.ts';

/** One way to spend the hours, and what it promises. */
export interface PlannedDesign extends Design {
  readonly hours: number;
  /** Chance that the release expected would be called more than the background. */
  readonly chance: number;
  /** Chance that its amount could be stated too; null when that was not the aim. */
  readonly amount: number | null;
}

/** What the hours are to buy: a yes or no, or an amount. */
export type Aim = 'above' | 'amount';

/** Four of each side are the fewest that are planned: three allow for no spoilt run. */
const FEWEST_PLANNED = 4;
const MOST_RUNS = 24;
/** Spiked runs and tested pieces that are tried. */
const SPIKES = [2, 3, 4, 6, 8] as const;
const TESTED = [10, 20, 40, 80] as const;
/** The most that a split of hours uses, however many there are. */
export const MOST_PLANNED = {
  runs: MOST_RUNS,
  spikes: Math.max(...SPIKES),
  tested: Math.max(...TESTED),
} as const;
/** Designs tried on virtual studies, of those that look best by their expected uncertainty. */
const TRIED = 6;

/** Every way to spend the hours on at least four runs of each side; whatever is left goes into controls. */
function waysToSpend(wish: PlanWish, spikes: readonly number[], tested: readonly number[]): Design[] {
  const { hours, confirming } = wish;
  const designs: Design[] = [];
  for (const spiked of spikes) {
    for (const pieces of tested) {
      const left =
        hours.available - spiked * hours.spike - 2 * pieces * (confirming?.hoursPerPiece ?? 0) + 1e-9;
      for (let specimens = FEWEST_PLANNED; specimens <= MOST_RUNS; specimens++) {
        const rest = Math.floor((left - specimens * hours.specimen) / hours.control);
        const controls = Math.min(MOST_RUNS, rest);
        if (controls < FEWEST_PLANNED) break;
        designs.push({ specimens, controls, spikes: spiked, tested: pieces });
      }
    }
  }
  return designs;
}

/**
 * Ways to split the hours between specimen runs, controls, spiked runs and tested pieces that meet the minimum, best
 * first: by the chance to state an amount (or, for a yes or no, to be called above the background). All ways are ranked
 * by their expected uncertainty and the better ones tried on virtual studies. `within`: both ends of an amount's
 * interval lie within this factor. Deceives when: background or scatter expected is a guess; try twice and half of each.
 */
export function splitsOfHours(
  wish: PlanWish,
  aim: Aim,
  within: number,
  spikes: readonly number[] = aim === 'amount' ? SPIKES : [0],
): PlannedDesign[] {
  const { hours } = wish;
  if (!(hours.specimen > 0 && hours.control > 0)) throw new RangeError('hours per run: above 0 is needed');
  const tested = wish.confirming ? TESTED : [0];
  const net = wish.fraction * wish.massG * wish.truth.recovery * wish.truth.releasePerGram;
  const rough = (design: Design): number =>
    aim === 'amount' ? expectedUncertainty(wish, design) : varianceOf(wish, design, net);
  const ranked = waysToSpend(wish, spikes, tested).sort((a, b) => rough(a) - rough(b));
  // neighbours of one number of specimen runs hardly differ: the best of each is tried
  const tried: Design[] = [];
  for (const design of ranked) {
    if (tried.length >= TRIED) break;
    if (!tried.some((other) => other.specimens === design.specimens)) tried.push(design);
  }
  return tried
    .map((design) => promised(wish, design, aim, within, STUDIES / 2))
    .sort(
      (a, b) =>
        (b.amount ?? 0) - (a.amount ?? 0) || b.chance - a.chance || rough(a) - rough(b) || a.hours - b.hours,
    );
}

/** What one design promises. */
export const promised = (
  wish: PlanWish,
  design: Design,
  aim: Aim,
  within: number,
  studies = STUDIES,
): PlannedDesign => ({
  ...design,
  hours: hoursOf(wish, design),
  chance: chanceToSee(wish, design.specimens, design.controls, wish.truth.releasePerGram, studies),
  amount: aim === 'amount' ? amountChance(wish, design, within) : null,
});
