/** A random subset within strata: how many of each, and which. */
import { chanceFrom, shuffled } from '../maths/index.ts';

export interface Stratum {
  readonly name: string;
  /** Pieces in it, of any kind of name. */
  readonly pieces: readonly string[];
  /** Of them tested already, and passed. */
  readonly tested: number;
  readonly passed: number;
}

/** Least pieces of every stratum, so that none is judged by its neighbours alone. Project choice. */
const LEAST_OF_EACH = 2;

/** What is not known of a stratum's share: variance of the even-prior beta after k of n. */
function unknown(tested: number, passed: number): number {
  const a = passed + 1;
  const b = tested - passed + 1;
  return (a * b) / ((a + b) ** 2 * (a + b + 1));
}

/**
 * How many further pieces to take from each stratum so that the number of true pieces in all is known best: one piece after
 * the other goes where it lowers N²·variance most, after every stratum has its least.
 * Source: Neyman 1934, J. R. Stat. Soc. 97:558 (allocation by size and spread), here step by step with an even prior.
 * Holds for: pieces then drawn at random within each stratum.
 */
export function allocate(strata: readonly Stratum[], more: number): number[] {
  if (!(Number.isSafeInteger(more) && more >= 0))
    throw new RangeError(`pieces to test: a whole number from 0 is needed, given ${more}`);
  const take = strata.map(() => 0);
  const left = (i: number): number => strata[i]!.pieces.length - strata[i]!.tested - take[i]!;
  const variance = (i: number, added: number): number => {
    const { pieces, tested, passed } = strata[i]!;
    const share = tested === 0 ? 0.5 : (passed + 1) / (tested + 2);
    const n = tested + added;
    const rest = pieces.length - n;
    return rest <= 0 ? 0 : rest ** 2 * unknown(n, passed + added * share);
  };
  for (let given = 0; given < more; given++) {
    let best = -1;
    let most = -1;
    for (let i = 0; i < strata.length; i++) {
      if (left(i) <= 0) continue;
      const short = strata[i]!.tested + take[i]! < LEAST_OF_EACH;
      const gain = (short ? 1e12 : 0) + variance(i, take[i]!) - variance(i, take[i]! + 1);
      if (gain > most) {
        most = gain;
        best = i;
      }
    }
    if (best < 0) break;
    take[best]! += 1;
  }
  return take;
}

/** Draws so many of each stratum at random, from those not yet tested; the same seed draws the same pieces. */
export function drawWithin(
  strata: readonly { readonly name: string; readonly untested: readonly string[] }[],
  take: readonly number[],
  seed: number,
): readonly { readonly stratum: string; readonly piece: string }[] {
  const chance = chanceFrom(seed);
  return strata.flatMap(({ name, untested }, i) =>
    shuffled(chance, [...untested].sort())
      .slice(0, take[i] ?? 0)
      .map((piece) => ({ stratum: name, piece })),
  );
}
