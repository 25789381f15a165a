import type { Chance } from '../maths/index.ts';
import { drawnShare, drawPicks, knownPicks } from './drawn-relabellings.ts';

export interface PermutationResult {
  readonly p: number;
  /** Relabellings looked at; all of them when `exhaustive`. */
  readonly relabellings: number;
  readonly exhaustive: boolean;
  /** The smallest p that this design could ever reach: 1 / number of relabellings. */
  readonly smallestPossible: number;
}

export interface PermutationOptions {
  /** Seed of drawn relabellings, by default 1: the same draws for as many runs, which are kept. */
  readonly seed?: number;
  /** Where they come from in its place; drawn afresh. */
  readonly chance?: Chance;
  /** Relabellings drawn where there are too many to look at all. */
  readonly draws?: number;
}

/** Additions that looking at every relabelling, or counting them by their sums, may take. */
const MOST_WRITTEN_OUT = 500_000;
const MOST_COUNTED = 4_000_000;
/** Numbers of ways beyond this are not counted: they would leave the range of doubles. */
const MOST_WAYS = 1e300;
const DRAWN = 20_000;

/** Ways to choose k of n. */
function choices(n: number, k: number): number {
  let out = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) out = (out * (n - i + 1)) / i;
  return out;
}

/** Every choice of k things, by its sum, one at a time. */
function everySum(things: readonly number[], k: number, seen: (sum: number) => void): void {
  const n = things.length;
  const pick = Array.from({ length: k }, (_, i) => i);
  for (;;) {
    let sum = 0;
    for (const i of pick) sum += things[i]!;
    seen(sum);
    let place = k - 1;
    while (place >= 0 && pick[place] === n - k + place) place--;
    if (place < 0) return;
    pick[place]!++;
    for (let j = place + 1; j < k; j++) pick[j] = pick[j - 1]! + 1;
  }
}

/** Share of all choices of k whole numbers whose sum is wanted: choices are counted by their sum, one number at a time. */
function countedShare(
  counts: readonly number[],
  k: number,
  total: number,
  wanted: (sum: number) => boolean,
): number {
  const width = total + 1;
  const ways = new Float64Array((k + 1) * width);
  ways[0] = 1;
  let reached = 0;
  counts.forEach((c, i) => {
    reached += c;
    for (let size = Math.min(k, i + 1); size >= 1; size--) {
      const to = size * width;
      const from = to - width;
      for (let sum = reached; sum >= c; sum--) ways[to + sum]! += ways[from + sum - c]!;
    }
  });
  let hits = 0;
  let all = 0;
  for (let sum = 0; sum < width; sum++) {
    const w = ways[k * width + sum]!;
    all += w;
    if (wanted(sum)) hits += w;
  }
  return hits / all;
}

/**
 * Whether the first group's sum is higher than handing the runs' labels out anew would make it. All relabellings, by
 * writing them out where they are few, or by counting them by their sums where counts are whole and not too large; else
 * seeded ones with the observed labels counted in.
 * Source: Fisher 1935, The Design of Experiments, §21; Phipson & Smyth 2010, Stat. Appl. Genet. Mol. Biol. 9:39 (drawn).
 * Holds for: runs whose labels would be exchangeable if the product shed nothing: same effort, scatter of any kind.
 * Deceives when: groups differ in anything but the product; fewer than 4 + 4 runs (3 + 3 can just reach 1/20).
 * Example: 6 + 6 runs wholly apart → p = 1/924.
 */
export function permutationTest(
  first: readonly number[],
  second: readonly number[],
  options: PermutationOptions = {},
): PermutationResult {
  const m = first.length;
  const n = m + second.length;
  if (m === 0 || second.length === 0) {
    throw new RangeError(`permutation: two groups with runs are needed, given ${m} and ${second.length}`);
  }
  const all = [...first, ...second];
  if (!all.every(Number.isFinite)) throw new RangeError('permutation: finite numbers are needed');
  const sumOf = (list: readonly number[]): number => list.reduce((sum, x) => sum + x, 0);
  const total = sumOf(all);
  const whole = all.every((x) => Number.isSafeInteger(x) && x >= 0);
  const observed = sumOf(first) - (whole ? 0 : 1e-9 * Math.abs(total));
  // choosing the first group's labels or the second's is the same choice: the smaller set is chosen
  const k = Math.min(m, n - m);
  const wanted = (sum: number): boolean => (k === m ? sum : total - sum) >= observed;
  const ways = choices(n, k);
  const smallestPossible = 1 / ways;
  const counting = whole && ways < MOST_WAYS ? n * k * (total + 1) : Infinity;
  if (ways * k <= Math.min(MOST_WRITTEN_OUT, counting)) {
    let hits = 0;
    everySum(all, k, (sum) => {
      if (wanted(sum)) hits++;
    });
    return { p: hits / ways, relabellings: ways, exhaustive: true, smallestPossible };
  }
  if (counting <= MOST_COUNTED) {
    return { p: countedShare(all, k, total, wanted), relabellings: ways, exhaustive: true, smallestPossible };
  }
  const { chance, seed = 1, draws = DRAWN } = options;
  const picks = chance ? drawPicks(chance, n, k, draws) : knownPicks(seed, n, k, draws);
  return {
    p: drawnShare(all, picks, wanted),
    relabellings: draws,
    exhaustive: false,
    smallestPossible,
  };
}
