import { done, type Outcome, refused } from '../../units/index.ts';
import { chanceFrom, studentUpperQuantile } from '../maths/index.ts';
import type { DesignRefusal } from './design-refusal.ts';
import type { Interval } from './interval.ts';
import { checkConfidence } from './poisson-interval.ts';

export interface PairedResult {
  /** Mean of second − first over the pairs. */
  readonly difference: Interval;
  /** One-sided: the second is above the first. */
  readonly p: number;
  readonly pairs: number;
  readonly smallestPossible: number;
}

const MOST_SIGNS = 18;
const DRAWN = 100_000;

/**
 * Pairs measured on the same thing (before and after, left and right half): mean difference with Student's interval, and
 * the exact test by changing signs, which allows any scatter between things.
 * Source: Fisher 1935, The Design of Experiments, §21 (signs); Student 1908, Biometrika 6:1 (interval).
 * Holds for: rates of equal effort within a pair; interval: 5 pairs and more.
 * Deceives when: the order within pairs is not free (always first before, then after, with a drifting background).
 */
export function pairedDifference(
  pairs: readonly (readonly [first: number, second: number])[],
  confidence: number,
  seed = 1,
): Outcome<PairedResult, DesignRefusal> {
  checkConfidence(confidence);
  const n = pairs.length;
  if (n < 2) {
    return refused({
      why: 'too-few-pairs',
      message: `${n} pairs are too few: at least 2 are needed, 5 to reach 5 %.`,
    });
  }
  const differences = pairs.map(([first, second]) => second - first);
  const mean = differences.reduce((s, d) => s + d, 0) / n;
  const sd = Math.sqrt(differences.reduce((s, d) => s + (d - mean) ** 2, 0) / (n - 1));
  const half = (studentUpperQuantile((1 - confidence) / 2, n - 1) * sd) / Math.sqrt(n);
  const seen = n * mean - 1e-9;
  let asFar = 0;
  let looked = 0;
  if (n <= MOST_SIGNS) {
    looked = 2 ** n;
    for (let signs = 0; signs < looked; signs++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += (signs >> i) & 1 ? differences[i]! : -differences[i]!;
      if (sum >= seen) asFar++;
    }
  } else {
    const chance = chanceFrom(seed);
    looked = DRAWN + 1;
    asFar = 1;
    for (let draw = 0; draw < DRAWN; draw++) {
      let sum = 0;
      for (const d of differences) sum += chance.word() & 1 ? d : -d;
      if (sum >= seen) asFar++;
    }
  }
  return done({
    difference: { value: mean, lower: mean - half, upper: mean + half, confidence },
    p: asFar / looked,
    pairs: n,
    smallestPossible: 2 ** -n,
  });
}
