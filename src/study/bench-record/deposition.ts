import { countInterval } from '../../science/counting/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';

/** An open dish: what was counted on it, how much of it was looked at, and how long it stood open. */
export interface OpenDish {
  readonly name: string;
  readonly session: string;
  /** Null: nobody looked. */
  readonly count: number | null;
  readonly examined: number | null;
  /** Null: nobody said how long it was open. */
  readonly minutesOpen: number | null;
}

export interface Deposition {
  /** Particles that would fall into an opening as large as the dish in these minutes. */
  readonly expected: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
  readonly minutes: number;
  readonly perHour: number;
  readonly dishes: readonly string[];
  readonly from: 'this session' | 'all sessions';
}

/**
 * What dust would bring in the minutes that a run stood uncovered: counts of open dishes over their minutes, times the run's.
 * expected = minutes · Σcounts / Σ(minutes open · share examined); the interval is the exact one of the summed count
 * (Garwood 1936), scaled. The dishes of the run's own session are taken, all of the study where it has none.
 * Refused: no dish, no dish looked at, no dish with its minutes.
 * Holds for: openings about as large as the dish, dust that falls evenly over the sitting.
 * Deceives when: the run's vessel is narrower or wider than the dish (scale by the area), somebody stood over one and not over
 * the other, or clothes shed in bursts: dishes then scatter more than the interval says. The interval is of the mean, not of
 * what fell on one day.
 */
export function deposition(
  minutes: number,
  session: string,
  dishes: readonly OpenDish[],
  confidence: number,
): Outcome<Deposition> {
  if (!(minutes >= 0)) throw new RangeError(`minutes: a number from 0 is needed, given ${minutes}`);
  if (dishes.length === 0) {
    return refused({
      why: 'no-dish',
      message:
        'No open dish stands beside the work: what falls from the air is not measured. Put one out at the next session.',
    });
  }
  const looked = dishes.filter((dish) => dish.count !== null && dish.examined !== null && dish.examined > 0);
  if (looked.length === 0) {
    return refused({
      why: 'dish-not-looked',
      message: `Nobody has looked at ${dishes.length === 1 ? `dish “${dishes[0]!.name}”` : 'the open dishes'} yet: bring in photographs; until then nothing is known of what fell.`,
    });
  }
  const timed = looked.filter((dish) => dish.minutesOpen !== null && dish.minutesOpen > 0);
  if (timed.length === 0) {
    return refused({
      why: 'dish-not-timed',
      message: `How long ${looked.length === 1 ? `dish “${looked[0]!.name}” was` : 'the dishes were'} open is not recorded: a count without minutes says nothing of a rate. Enter the minutes.`,
    });
  }
  const own = timed.filter((dish) => dish.session === session);
  const used = own.length > 0 ? own : timed;
  const count = used.reduce((sum, dish) => sum + dish.count!, 0);
  const exposure = used.reduce((sum, dish) => sum + dish.minutesOpen! * dish.examined!, 0);
  const { lower, upper } = countInterval(count, confidence);
  const scale = minutes / exposure;
  return done({
    expected: count * scale,
    lower: lower * scale,
    upper: upper * scale,
    confidence,
    minutes,
    perHour: (60 * count) / exposure,
    dishes: used.map((dish) => dish.name),
    from: own.length > 0 ? 'this session' : 'all sessions',
  });
}
