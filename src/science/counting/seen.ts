/**
 * What looking at a part gave. Three things that all look like nothing and are not the same: a count of none,
 * a part that nobody looked at, and a part (or a size) where pieces could not have been seen.
 */
export type Seen =
  | { readonly kind: 'counted'; readonly count: number }
  | { readonly kind: 'not-looked'; readonly because: string }
  | { readonly kind: 'could-not-be-seen'; readonly because: string };

export const counted = (count: number): Seen => {
  if (!Number.isSafeInteger(count) || count < 0) {
    throw new RangeError(`count: a whole number from 0 is needed, given ${count}`);
  }
  return { kind: 'counted', count };
};
export const notLooked = (because: string): Seen => ({ kind: 'not-looked', because });
export const couldNotBeSeen = (because: string): Seen => ({ kind: 'could-not-be-seen', because });

/** A sum that remembers what it does not hold. */
export interface SeenSum {
  readonly parts: number;
  readonly counted: number;
  /** Pieces in the counted parts; null when no part was counted, which is not a count of none. */
  readonly count: number | null;
  readonly notLooked: readonly string[];
  readonly outOfSight: readonly string[];
}

/** Adds parts without turning what was not looked at, or could not be seen, into none. */
export function sumSeen(parts: readonly Seen[]): SeenSum {
  let count = 0;
  let looked = 0;
  const missed: string[] = [];
  const outOfSight: string[] = [];
  for (const part of parts) {
    if (part.kind === 'counted') {
      count += part.count;
      looked++;
    } else if (part.kind === 'not-looked') missed.push(part.because);
    else outOfSight.push(part.because);
  }
  return {
    parts: parts.length,
    counted: looked,
    count: looked === 0 ? null : count,
    notLooked: [...new Set(missed)],
    outOfSight: [...new Set(outOfSight)],
  };
}

/** Two sums put together; nothing is lost. */
export function joinSums(a: SeenSum, b: SeenSum): SeenSum {
  return {
    parts: a.parts + b.parts,
    counted: a.counted + b.counted,
    count: a.count === null ? b.count : b.count === null ? a.count : a.count + b.count,
    notLooked: [...new Set([...a.notLooked, ...b.notLooked])],
    outOfSight: [...new Set([...a.outOfSight, ...b.outOfSight])],
  };
}

/** A sum in words: “12”, “12 in 3 of 5 parts”, “not looked at”. */
export function seenInWords(sum: SeenSum): string {
  if (sum.count === null) return sum.outOfSight.length > 0 ? 'could not be seen' : 'not looked at';
  const found = sum.count === 0 ? 'none seen' : String(sum.count);
  return sum.counted === sum.parts ? found : `${found} in ${sum.counted} of ${sum.parts} parts`;
}
