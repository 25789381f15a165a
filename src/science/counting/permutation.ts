import { chanceFrom, drawBelow, lnChoose } from '../maths/index.ts';

export interface PermutationResult {
  readonly p: number;
  /** Relabellings looked at; all of them when `exhaustive`. */
  readonly relabellings: number;
  readonly exhaustive: boolean;
  /** The smallest p that this design could ever reach: 1 / number of relabellings. */
  readonly smallestPossible: number;
}

/** Up to here every relabelling of rates is written out. */
const MOST_WRITTEN_OUT = 200_000;
/** Steps that counting all relabellings of whole counts may take. */
const MOST_STEPS = 2e7;
const DRAWN = 19_999;

/** Calls back with the sum of every choice of k things. */
function everySum(things: Float64Array, k: number, seen: (sum: number) => void): void {
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

/**
 * Chances of every sum of k things chosen from whole numbers without return: things are passed one after the other, each
 * taken with the chance that it belongs to the choice. Exact for any number of runs.
 */
function chanceOfSums(counts: Float64Array, k: number, total: number): Float64Array {
  const n = counts.length;
  const width = total + 1;
  // chance[taken·width + sum] after the things passed so far
  let chance = new Float64Array((k + 1) * width);
  chance[0] = 1;
  counts.forEach((x, passed) => {
    const next = new Float64Array((k + 1) * width);
    for (let taken = 0; taken <= Math.min(k, passed); taken++) {
      const take = (k - taken) / (n - passed);
      for (let sum = 0; sum < width; sum++) {
        const here = chance[taken * width + sum]!;
        if (here === 0) continue;
        if (take < 1) next[taken * width + sum]! += here * (1 - take);
        if (take > 0) next[(taken + 1) * width + sum + x]! += here * take;
      }
    }
    chance = next;
  });
  return chance.slice(k * width);
}

/** p by seeded relabellings, the observed labels counted in. */
function drawnShare(all: Float64Array, k: number, asFar: (sum: number) => boolean, seed: number): number {
  const things = Float64Array.from(all);
  const n = things.length;
  const chance = chanceFrom(seed);
  let hits = 1;
  for (let draw = 0; draw < DRAWN; draw++) {
    let sum = 0;
    for (let i = 0; i < k; i++) {
      const j = i + drawBelow(chance, n - i);
      const taken = things[j]!;
      things[j] = things[i]!;
      things[i] = taken;
      sum += taken;
    }
    if (asFar(sum)) hits++;
  }
  return hits / (DRAWN + 1);
}

/**
 * Whether the first group's mean is above (or differs from) the second's more than relabelling the runs would make it.
 * All relabellings when there are at most 200,000, or when counts are whole and can be summed up exactly; else 19,999
 * seeded ones with the observed labels counted in.
 * Source: Fisher 1935, The Design of Experiments, §21; Phipson & Smyth 2010, Stat. Appl. Genet. Mol. Biol. 9:39 (drawn).
 * Holds for: runs whose labels would be exchangeable if the product shed nothing: same effort, scatter of any kind.
 * Deceives when: groups differ in anything but the product; fewer than 4 + 4 runs (3 + 3 can just reach 1/20).
 * Example: 6 + 6 runs wholly apart → p = 1/924.
 */
export function permutationTest(
  first: readonly number[],
  second: readonly number[],
  side: 'greater' | 'two-sided' = 'greater',
  seed = 1,
): PermutationResult {
  const k = first.length;
  const n = k + second.length;
  if (k === 0 || second.length === 0) {
    throw new RangeError(`permutation: two groups with runs are needed, given ${k} and ${second.length}`);
  }
  const all = Float64Array.from([...first, ...second]);
  if (!all.every(Number.isFinite)) throw new RangeError('permutation: finite numbers are needed');
  const total = all.reduce((sum, x) => sum + x, 0);
  // distance of the first group's mean from the second's is a rising function of its sum
  const far = (sum: number): number => {
    const gap = sum / k - (total - sum) / (n - k);
    return side === 'greater' ? gap : Math.abs(gap);
  };
  const observed = far(first.reduce((sum, x) => sum + x, 0)) - 1e-9 * (Math.abs(total) + 1e-300);
  const asFar = (sum: number): boolean => far(sum) >= observed;
  const smallestPossible = Math.exp(-lnChoose(n, k));
  const ways = Math.round(1 / smallestPossible);
  if (ways <= MOST_WRITTEN_OUT) {
    let hits = 0;
    everySum(all, k, (sum) => {
      if (asFar(sum)) hits++;
    });
    return { p: hits / ways, relabellings: ways, exhaustive: true, smallestPossible };
  }
  const whole = all.every((x) => Number.isInteger(x) && x >= 0);
  if (whole && n * k * (total + 1) <= MOST_STEPS) {
    const p = chanceOfSums(all, k, total).reduce((sum, chance, at) => (asFar(at) ? sum + chance : sum), 0);
    return { p: Math.min(1, p), relabellings: ways, exhaustive: true, smallestPossible };
  }
  return { p: drawnShare(all, k, asFar, seed), relabellings: DRAWN, exhaustive: false, smallestPossible };
}
