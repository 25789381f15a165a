import { type Chance, chanceFrom, drawBelow, drawBinomial } from '../../maths/index.ts';
import type { SeenRun } from './group-rate.ts';

/** Answer of the relabelling test. */
export interface Relabelling {
  /** Share of all ways to hand out the labels that give the specimen runs at least the pieces they have. */
  readonly p: number;
  /** Smallest p that this many runs can reach. */
  readonly smallest: number;
  readonly method: 'all' | 'drawn' | 'all-after-thinning' | 'drawn-after-thinning';
}

/** Additions that an exact count of all relabellings may take before draws replace it. */
const EXACT_WORK = 4_000_000;
const DRAWS = 20_000;
const THINNINGS = 64;
/** Fractions closer than this count as equal. */
const SAME_FRACTION = 0.005;

/**
 * Are the specimen runs' counts higher than chance labels would give? Under “no release” the runs are exchangeable,
 * whatever their scatter, so every choice of which runs are “specimen” is as likely as the true one; p is the share of
 * choices whose total is at least the observed total.
 *
 * Runs of unequal fraction are not exchangeable. Each is first thinned by chance to the smallest fraction (a piece is
 * kept with probability smallest/own), which makes them so, and p is averaged over seeded thinnings.
 *
 * Source: Fisher 1935, The Design of Experiments; Pitman 1937, J. R. Stat. Soc. Suppl. 4:119.
 * Holds for: any distribution of counts. Deceives when: runs are not interchangeable for another reason (another day,
 * another bench), and can never fall below 1/(number of choices): 3 + 3 runs reach 0.05, 4 + 4 reach 1/70.
 */
export function relabellingTest(
  specimens: readonly SeenRun[],
  controls: readonly SeenRun[],
  seed = 1,
): Relabelling {
  const runs = [...specimens, ...controls];
  const m = specimens.length;
  if (m === 0 || controls.length === 0) throw new RangeError('relabelling: runs of both kinds are needed');
  let least = 1;
  let most = 0;
  for (const r of runs) {
    least = Math.min(least, r.fraction);
    most = Math.max(most, r.fraction);
  }
  const smallest = 1 / choices(runs.length, m);
  const chance = chanceFrom(seed);
  if (most <= least * (1 + SAME_FRACTION)) {
    const answer = shareAtLeast(
      runs.map((r) => r.count),
      m,
      (n, k) => knownPicks(seed, n, k),
    );
    return { p: answer.p, smallest, method: answer.exact ? 'all' : 'drawn' };
  }
  let sum = 0;
  let exact = true;
  for (let i = 0; i < THINNINGS; i++) {
    const thinned = runs.map((r) =>
      r.fraction <= least * (1 + SAME_FRACTION) ? r.count : drawBinomial(chance, r.count, least / r.fraction),
    );
    const answer = shareAtLeast(thinned, m, (n, k) => drawPicks(chance, n, k, DRAWS / 20));
    sum += answer.p;
    exact &&= answer.exact;
  }
  return { p: sum / THINNINGS, smallest, method: exact ? 'all-after-thinning' : 'drawn-after-thinning' };
}

function shareAtLeast(
  counts: readonly number[],
  m: number,
  picksOf: (n: number, k: number) => Picks,
): { p: number; exact: boolean } {
  let observed = 0;
  let total = 0;
  counts.forEach((c, i) => {
    total += c;
    if (i < m) observed += c;
  });
  const n = counts.length;
  // choosing the specimen labels or the control labels is the same choice: count the smaller set
  const k = Math.min(m, n - m);
  const wanted =
    m <= n - m
      ? (sum: number): boolean => sum >= observed
      : (sum: number): boolean => total - sum >= observed;
  if (n * k * (total + 1) <= EXACT_WORK) return { p: exactShare(counts, k, total, wanted), exact: true };
  const { draws, rowBytes, picked } = picksOf(n, k);
  const sums = sumsOfEights(counts);
  let hits = 1;
  for (let d = 0; d < draws; d++) {
    let sum = 0;
    for (let b = 0; b < rowBytes; b++) sum += sums[256 * b + picked[d * rowBytes + b]!]!;
    if (wanted(sum)) hits++;
  }
  return { p: hits / (draws + 1), exact: false };
}

/** Drawn choices of runs, a row of bits each: bit j tells whether run j is among them. */
interface Picks {
  readonly draws: number;
  readonly rowBytes: number;
  readonly picked: Uint8Array;
}

function drawPicks(chance: Chance, n: number, k: number, draws: number): Picks {
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

/**
 * Which runs are picked hangs on the seed and on how many there are, not on their counts: a study asks for the same draws
 * under every choice, so those of the last few designs are kept.
 */
function knownPicks(seed: number, n: number, k: number): Picks {
  const key = `${seed} ${n} ${k}`;
  const before = keptPicks.get(key);
  if (before) return before;
  const picks = drawPicks(chanceFrom(seed), n, k, DRAWS);
  if (keptPicks.size >= MOST_KEPT) keptPicks.clear();
  keptPicks.set(key, picks);
  return picks;
}

const keptPicks = new Map<string, Picks>();
const MOST_KEPT = 8;

/** Sums of the counts of eight neighbouring runs, for every way to pick among them. */
function sumsOfEights(counts: readonly number[]): Float64Array {
  const sums = new Float64Array(256 * Math.ceil(counts.length / 8));
  counts.forEach((count, run) => {
    const from = 256 * (run >> 3);
    const own = 1 << (run & 7);
    for (let pick = own; pick < 2 * own; pick++) sums[from + pick] = sums[from + pick - own]! + count;
  });
  return sums;
}

/** Counts every choice of k runs by its sum, adding one run at a time. */
function exactShare(
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

function choices(n: number, k: number): number {
  let out = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) out = (out * (n - i + 1)) / i;
  return out;
}
