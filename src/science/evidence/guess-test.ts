import { lnHypergeometric } from '../maths/index.ts';

export interface GuessTest {
  readonly guessed: number;
  readonly right: number;
  /** Chance of at least so many right guesses if the pictures told nothing. */
  readonly p: number;
  /** Smallest p that so many guesses of these kinds could reach. */
  readonly smallest: number;
  /** The blind leaked, by the limit stated. */
  readonly leaked: boolean;
}

/**
 * Can a scorer tell specimen pictures from control pictures? `hits`: specimen pictures guessed “specimen”; the rest as counts.
 * If pictures told nothing, every hand-out of the guesses over the pictures would be as likely: the number of hits is
 * hypergeometric given how many of each there are.
 * Source: Fisher 1935, The Design of Experiments, ch. 2 (the lady tasting tea). Example: 4 of 4 right among 8 → p = 1/70.
 * Holds for: guesses made before the key was opened. Deceives when: few guesses: not leaked is then not shown.
 */
export function guessTest(
  of: {
    readonly specimens: number;
    readonly controls: number;
    readonly hits: number;
    /** Controls guessed “specimen”. */
    readonly falseHits: number;
  },
  limit = 0.05,
): GuessTest {
  const { specimens, controls, hits, falseHits } = of;
  if (
    ![specimens, controls, hits, falseHits].every((n) => Number.isSafeInteger(n) && n >= 0) ||
    hits > specimens ||
    falseHits > controls
  )
    throw new RangeError(
      `guesses: hits within specimens and controls are needed, given ${hits} of ${specimens}, ${falseHits} of ${controls}`,
    );
  const guessed = specimens + controls;
  const called = hits + falseHits;
  if (guessed === 0 || specimens === 0 || controls === 0)
    return { guessed, right: hits + controls - falseHits, p: 1, smallest: 1, leaked: false };
  const most = Math.min(specimens, called);
  let p = 0;
  for (let k = hits; k <= most; k++) p += Math.exp(lnHypergeometric(k, guessed, specimens, called));
  const smallest = Math.exp(lnHypergeometric(most, guessed, specimens, called));
  return { guessed, right: hits + controls - falseHits, p: Math.min(1, p), smallest, leaked: p <= limit };
}
