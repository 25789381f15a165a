/** Relabellings drawn by chance, as bits, so that the same draws serve many counts. */
import { type Chance, chanceFrom, drawBelow } from '../maths/index.ts';

/** Drawn choices of runs, a row of bits each: bit j tells whether run j is among them. */
export interface Picks {
  readonly draws: number;
  readonly rowBytes: number;
  readonly picked: Uint8Array;
}

/** Choices of k of n runs, each as likely as any other. */
export function drawPicks(chance: Chance, n: number, k: number, draws: number): Picks {
  const rowBytes = Math.ceil(n / 8);
  const picked = new Uint8Array(draws * rowBytes);
  const pool = Uint32Array.from({ length: n }, (_, run) => run);
  for (let d = 0; d < draws; d++) {
    for (let i = 0; i < k; i++) {
      const j = i + drawBelow(chance, n - i);
      const run = pool[j]!;
      pool[j] = pool[i]!;
      pool[i] = run;
      picked[d * rowBytes + (run >> 3)]! |= 1 << (run & 7);
    }
  }
  return { draws, rowBytes, picked };
}

const kept = new Map<string, Picks>();
const MOST_KEPT = 8;

/**
 * Which runs are picked hangs on the seed and on how many there are, not on their counts: a study asks for the same draws
 * under every choice, so those of the last few designs are kept.
 */
export function knownPicks(seed: number, n: number, k: number, draws: number): Picks {
  const key = `${seed} ${n} ${k} ${draws}`;
  const before = kept.get(key);
  if (before) return before;
  const picks = drawPicks(chanceFrom(seed), n, k, draws);
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, picks);
  return picks;
}

/** Sums of the numbers of eight neighbouring runs, for every way to pick among them. */
function sumsOfEights(things: readonly number[]): Float64Array {
  const sums = new Float64Array(256 * Math.ceil(things.length / 8));
  things.forEach((thing, run) => {
    const from = 256 * (run >> 3);
    const own = 1 << (run & 7);
    for (let pick = own; pick < 2 * own; pick++) sums[from + pick] = sums[from + pick - own]! + thing;
  });
  return sums;
}

/** p by drawn relabellings, the observed labels counted in. */
export function drawnShare(
  things: readonly number[],
  { draws, rowBytes, picked }: Picks,
  wanted: (sum: number) => boolean,
): number {
  const sums = sumsOfEights(things);
  let hits = 1;
  for (let d = 0; d < draws; d++) {
    let sum = 0;
    for (let b = 0; b < rowBytes; b++) sum += sums[256 * b + picked[d * rowBytes + b]!]!;
    if (wanted(sum)) hits++;
  }
  return hits / (draws + 1);
}
