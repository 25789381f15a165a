import { normalQuantile } from '../../maths/index.ts';
import type { NetInput } from '../joint/net-input.ts';
import type { Spike } from '../joint/recovery-knowledge.ts';
import type { Design, PlanWish } from './plan-wish.ts';

/** Places evenly in the middle of n equal shares of a distribution. */
const places = (n: number): number[] => Array.from({ length: n }, (_, i) => (i + 0.5) / n);

/**
 * Middles of equal shares lie closer together than runs do; drawn apart by this the typical limit is the median limit of
 * drawn studies, within a tenth on average (test). Project choice.
 */
const WIDER = 1.25;

/** Gamma quantile, drawn apart, by mean and variance. Source: Wilson & Hilferty 1931, Proc. Natl. Acad. Sci. 17:684 (cube root). */
function gammaQuantile(p: number, mean: number, variance: number): number {
  const shape = mean ** 2 / variance;
  const root = 1 - 1 / (9 * shape) + (WIDER * normalQuantile(p)) / (3 * Math.sqrt(shape));
  return mean * Math.max(0, root) ** 3;
}

/** Whole counts that add up to `total`, spread as runs of this mean and scatter² are likely to be. */
function countsOf(n: number, mean: number, scatterSquared: number, total: number): number[] {
  if (total === 0) return new Array<number>(n).fill(0);
  const wanted = places(n).map((p) => gammaQuantile(p, mean, mean + scatterSquared * mean ** 2));
  const sum = wanted.reduce((s, x) => s + x, 0);
  // a tiny mean has all quantiles at 0: the highest run then holds what there is
  const scaled =
    sum > 0 ? wanted.map((x) => (x * total) / sum) : wanted.map((_, i) => (i === n - 1 ? total : 0));
  const counts = scaled.map(Math.floor);
  let left = total - counts.reduce((s, x) => s + x, 0);
  const order = scaled.map((x, i) => ({ i, rest: x - Math.floor(x) })).sort((a, b) => b.rest - a.rest);
  for (const { i } of order) {
    if (left <= 0) break;
    counts[i]!++;
    left--;
  }
  return counts;
}

function spikesOf(wish: PlanWish, n: number): Spike[] {
  const { recovery, recoverySd } = wish.truth;
  const added = wish.addedPerSpike;
  const sd = Math.sqrt(recoverySd ** 2 + (recovery * (1 - recovery)) / added);
  return places(n).map((p) => ({
    found: Math.min(added, Math.max(1, Math.round(added * (recovery + sd * normalQuantile(p))))),
    added,
  }));
}

/** A study as it would typically turn out, with a weight; several where an expected total is no whole number. */
export interface Typical {
  readonly study: Omit<NetInput, 'confidence'>;
  readonly weight: number;
}

/** The whole numbers about a total, and how near it lies to each. */
const about = (total: number): { readonly whole: number; readonly weight: number }[] => {
  const below = Math.floor(total + 1e-9);
  const share = total - below;
  return share < 1e-9
    ? [{ whole: below, weight: 1 }]
    : [
        { whole: below, weight: 1 - share },
        { whole: below + 1, weight: share },
      ];
};

/**
 * What a study with no release would typically look like: counts at the middles of equal shares of the runs' distribution,
 * totals as expected. One such study stands for many drawn ones, without their noise, so that two designs can be told
 * apart by a single run. Deceives when: read as a forecast of one study; half of all studies do better, half worse.
 */
export function typicalStudies(
  wish: PlanWish,
  design: Pick<Design, 'specimens' | 'controls' | 'spikes'>,
): Typical[] {
  const { truth, fraction, massG } = wish;
  const mean = fraction * truth.background;
  const seen = { passed: fraction, examined: 1 };
  const runs = (n: number, total: number) =>
    countsOf(n, mean, truth.backgroundScatter, total).map((count) => ({ count, ...seen }));
  const spikes = spikesOf(wish, design.spikes);
  return about(design.specimens * mean).flatMap((s) =>
    about(design.controls * mean).map((c) => ({
      weight: s.weight * c.weight,
      study: {
        specimens: runs(design.specimens, s.whole).map((run) => ({ ...run, massG })),
        controls: runs(design.controls, c.whole),
        spikes,
      },
    })),
  );
}
