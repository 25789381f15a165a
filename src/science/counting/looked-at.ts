import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

/** A share of something, with its standard uncertainty. */
export interface UncertainShare {
  readonly share: number;
  readonly uncertainty: number;
}

export interface ShareRefusal extends Refusal {
  readonly why: 'whole-missing' | 'part-above-whole' | 'nothing-looked-at';
}

/** A measured amount with its standard uncertainty. */
export interface Measured {
  readonly value: number;
  readonly uncertainty: number;
}

/**
 * Share of a liquid that passed: part/whole, relative uncertainties added in squares. Where the rest was measured instead of
 * the whole, `shareBesideRest` is the narrower form.
 * Source: JCGM 100:2008 (GUM), 5.1.2.  Holds for: independent measurements.
 * Deceives when: the kept remainder is not of the same make as what passed (coarse pieces settle: a share of volume is
 * then no share of particles).
 */
export function shareOf(part: Measured, whole: Measured): Outcome<UncertainShare, ShareRefusal> {
  if (!(whole.value > 0)) {
    return refused({
      why: 'whole-missing',
      message: `The whole is ${whole.value}: an amount above 0 is needed to give a share of it.`,
    });
  }
  const share = part.value / whole.value;
  if (!(share > 0)) {
    return refused({
      why: 'nothing-looked-at',
      message: `The part is ${part.value}: nothing was looked at, so nothing is known of it.`,
    });
  }
  const uncertainty = share * Math.hypot(part.uncertainty / part.value, whole.uncertainty / whole.value);
  if (share - 2 * uncertainty > 1) {
    return refused({
      why: 'part-above-whole',
      message: `The part (${part.value}) is more than the whole (${whole.value}), beyond their uncertainty: measure again.`,
    });
  }
  return done({ share: Math.min(1, share), uncertainty });
}

/**
 * Share part/(part + rest), both measured: relative uncertainty (1 − share) times those of part and rest added in squares,
 * so that it is nought where there is no rest.
 * Source: JCGM 100:2008 (GUM), 5.1.2, for f = a/(a + b).  Holds for: independent measurements.
 * Deceives when: something is missing from part and rest together; or as `shareOf` does.
 */
export function shareBesideRest(part: Measured, rest: Measured): Outcome<UncertainShare, ShareRefusal> {
  if (!(part.value > 0)) {
    return refused({
      why: 'nothing-looked-at',
      message: `The part is ${part.value}: nothing was looked at, so nothing is known of it.`,
    });
  }
  if (!(rest.value >= 0)) {
    return refused({
      why: 'whole-missing',
      message: `The rest is ${rest.value}: an amount from 0 is needed.`,
    });
  }
  const share = part.value / (part.value + rest.value);
  const ofRest = rest.value === 0 ? 0 : rest.uncertainty / rest.value;
  const relative = (1 - share) * Math.hypot(part.uncertainty / part.value, ofRest);
  return done({ share, uncertainty: share * relative });
}

/**
 * Share of a filter's area counted: k of n squares, with the uncertainty that uneven spread leaves when the squares are
 * a sample: relative variance (1 − k/n)/k times the squared variation of counts between squares beyond Poisson.
 * Source: Cochran 1977, Sampling Techniques, §2.8 (finite population); the Poisson part is in the count itself.
 * Holds for: squares drawn at random over the whole filter.
 * Deceives when: squares were chosen by look, or all lie in one zone (rings near the edge often hold other numbers).
 */
export function shareOfSquares(
  counted: number,
  all: number,
  variation: number,
): Outcome<UncertainShare, ShareRefusal> {
  if (!(all > 0))
    return refused({ why: 'whole-missing', message: 'The filter has no squares: count them first.' });
  if (!(counted > 0)) {
    return refused({
      why: 'nothing-looked-at',
      message: 'No square was counted, so nothing is known of the filter.',
    });
  }
  if (counted > all) {
    return refused({
      why: 'part-above-whole',
      message: `${counted} squares were counted of ${all}: at most ${all} are there.`,
    });
  }
  const share = counted / all;
  return done({ share, uncertainty: share * variation * Math.sqrt((1 - share) / counted) });
}

/** Counts on squares in sums: how many squares there are, their total, and the total of their squares. */
export interface SquareSums {
  readonly squares: number;
  readonly total: number;
  readonly totalOfSquares: number;
}

/** Variation between squares beyond Poisson (coefficient of variation); 0 when there is none to see. */
export function variationBetween({ squares, total, totalOfSquares }: SquareSums): number {
  if (squares < 2) throw new RangeError(`squares: at least 2 counts are needed, given ${squares}`);
  if (total === 0) return 0;
  const mean = total / squares;
  const variance = Math.max(0, totalOfSquares - squares * mean * mean) / (squares - 1);
  return Math.sqrt(Math.max(0, variance - mean)) / mean;
}

/** Passed × photographed × counted: the product with its relative uncertainty (independent parts, added in squares). */
export function productOf(shares: readonly UncertainShare[]): UncertainShare & { readonly relative: number } {
  let share = 1;
  let square = 0;
  for (const part of shares) {
    if (!(part.share > 0 && part.share <= 1)) {
      throw new RangeError(`share: a number above 0, up to 1 is needed, given ${part.share}`);
    }
    share *= part.share;
    square += (part.uncertainty / part.share) ** 2;
  }
  const relative = Math.sqrt(square);
  return { share, uncertainty: share * relative, relative };
}
