import type { CountingInput } from './counting-input.ts';
import { relabellingTest } from './joint/labels.ts';
import type { Test } from './judgement.ts';

/** Additions that one try may take; beyond, the count is not told. */
const MOST_WORK = 4_000_000;

/** Whole counts of this total, shared out over the runs as `shares` say (largest remainders). */
function sharedOut(total: number, shares: readonly number[]): number[] {
  const sum = shares.reduce((s, x) => s + x, 0);
  const wanted = shares.map((share) => (total * share) / sum);
  const counts = wanted.map(Math.floor);
  let left = total - counts.reduce((s, x) => s + x, 0);
  const order = wanted.map((x, i) => ({ i, rest: x - Math.floor(x) })).sort((a, b) => b.rest - a.rest);
  for (const { i } of order) {
    if (left-- <= 0) break;
    counts[i]!++;
  }
  return counts;
}

/**
 * Smallest total of the specimen runs that the deciding test would call above these controls. By relabelling it depends
 * on how the runs share it: as they share what was found, or by their extent where nothing was. Null by the joint model
 * (no count decides there), and where trying would take too long.
 * Deceives when: read as a fixed threshold; the next specimen runs share their particles out otherwise.
 */
export function decidingCount(
  input: CountingInput,
  by: Test['name'],
  byPoisson: number,
  alpha: number,
): number | null {
  if (by === 'conditional-exact') return byPoisson;
  if (by !== 'permutation') return null;
  const seen = input.portions.map((p) => p.passed * p.examined);
  const found = input.portions.reduce((sum, p) => sum + p.count, 0);
  const shares = found === 0 ? seen : input.portions.map((p) => p.count);
  const controls = input.controls.map((c) => ({ count: c.count, fraction: c.passed * c.examined }));
  const inControls = controls.reduce((sum, c) => sum + c.count, 0);
  const runs = seen.length + controls.length;
  const work = (total: number) => runs * Math.min(seen.length, controls.length) * (total + inControls + 1);
  const above = (total: number): boolean =>
    relabellingTest(
      sharedOut(total, shares).map((count, i) => ({ count, fraction: seen[i]! })),
      controls,
    ).p <= alpha;
  let high = Math.max(1, byPoisson);
  for (; work(high) <= MOST_WORK; high *= 2) if (above(high)) break;
  if (work(high) > MOST_WORK) return null;
  let low = 0;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (above(middle)) high = middle;
    else low = middle;
  }
  return high;
}
