import { chanceFrom, drawBelow, lnChoose } from '../maths/index.ts';

export interface PermutationResult {
  readonly p: number;
  /** Relabellings looked at; all of them when `exhaustive`. */
  readonly relabellings: number;
  readonly exhaustive: boolean;
  /** The smallest p that this design could ever reach: 1 / number of relabellings. */
  readonly smallestPossible: number;
}

const MOST_EXHAUSTIVE = 200_000;
const DRAWN = 99_999;

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
 * Whether the first group's mean is above (or differs from) the second's more than relabelling the runs would make it.
 * All relabellings when there are at most 200,000, else 99,999 seeded ones with the observed labels counted in.
 * Source: Fisher 1935, The Design of Experiments, §21; Phipson & Smyth 2010 (drawn relabellings, p never 0).
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
  const far = (sum: number): number =>
    side === 'greater' ? sum / k - (total - sum) / (n - k) : Math.abs(sum / k - (total - sum) / (n - k));
  const observed = far(first.reduce((sum, x) => sum + x, 0));
  const slack = 1e-9 * (Math.abs(total) + 1e-300);
  const choices = Math.round(Math.exp(lnChoose(n, k)));
  const smallestPossible = Math.exp(-lnChoose(n, k));
  let asFar = 0;
  if (choices <= MOST_EXHAUSTIVE) {
    everySum(all, k, (sum) => {
      if (far(sum) >= observed - slack) asFar++;
    });
    return { p: asFar / choices, relabellings: choices, exhaustive: true, smallestPossible };
  }
  const chance = chanceFrom(seed);
  for (let draw = 0; draw < DRAWN; draw++) {
    let sum = 0;
    for (let i = 0; i < k; i++) {
      const j = i + drawBelow(chance, n - i);
      const taken = all[j]!;
      all[j] = all[i]!;
      all[i] = taken;
      sum += taken;
    }
    if (far(sum) >= observed - slack) asFar++;
  }
  return { p: (asFar + 1) / (DRAWN + 1), relabellings: DRAWN, exhaustive: false, smallestPossible };
}
