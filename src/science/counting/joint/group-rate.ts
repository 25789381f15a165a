import { fromDensity, type Knowledge, known } from './knowledge.ts';

/** One run as the model sees it: pieces counted, and the share of the whole run that was looked at. */
export interface SeenRun {
  readonly count: number;
  /** passed × examined: above 0, at most 1. */
  readonly fraction: number;
}

/** What a group of like runs says of its rate per whole run. */
export interface GroupRate {
  /** Σ counts / Σ fractions. */
  readonly rate: number;
  /** Knowledge that errs to the low side (for lower limits) and to the high side (for upper limits). */
  readonly low: Knowledge;
  readonly high: Knowledge;
  /** Scatter between runs beyond counting, as a coefficient of variation (0: none). */
  readonly scatter: Knowledge;
  /** Mean of scatter² under the same knowledge. */
  readonly scatterSquared: number;
}

/** The greatest scatter the model considers: runs that differ by 150 % of their mean (negative binomial shape 0.44). */
export const MOST_SCATTER = 1.5;
/** Power of (1 + s²·mean) in the prior on the low and the high side; Jeffreys' is −½ (see the docstring below). */
const LOW_POWER = -0.5;
const HIGH_POWER = -0.4;
/** Added to the high power at full skewness; chosen by simulation. */
const SKEW_POWER = 0.25;
const SCATTER_POINTS = 20;
const RATE_POINTS = 128;
const RATE_REACH = 3.3;

/** ln likelihood of other runs at a scatter², added to the even prior (a laboratory's blank history). */
export type ScatterHistory = (scatterSquared: number) => number;

/** Expected pieces in a run whose group has this rate, per unit of fraction; when absent, the rate itself. */
export type MeanOf = (rate: number, run: number) => number;

export interface GroupFacts {
  readonly history?: ScatterHistory;
  readonly meanOf?: MeanOf;
  /** Scatter that these runs have at least (a background's scatter stays in the specimens' counts). */
  readonly leastScatter?: number;
  /** How much more skewed than a gamma of the same scatter the runs may be, 0 to 1 (a sum of two unlike parts). */
  readonly skewness?: number;
}

interface Like {
  readonly fraction: number;
  readonly run: number;
  n: number;
  count: number;
}

/**
 * Rate of a group of runs whose counts scatter more than counting alone: count ~ Poisson(fraction·rate·G), G gamma with
 * mean 1 and variance scatter² (so the count is negative binomial). The joint likelihood of rate and scatter is laid out
 * on a grid and the scatter summed out with an even prior from 0 to 1.5 (times a history of like runs where there is one).
 *
 * The prior of the rate is Jeffreys' for a known scatter, rate^−½ (1 + s²·mean)^−½, tilted by rate^∓½: with no scatter
 * the two tables are then Gamma(n) and Gamma(n + 1), whose quantiles are Garwood's exact limits. On the high side the
 * second power is −0.4: chosen by simulation, for four scattered runs otherwise miss the upper end too often.
 *
 * Holds for: three runs and more; counts of any size. Deceives when: runs are not alike (a drift, one spoilt run), or
 * scatter is above 150 %.
 */
export function groupRate(runs: readonly SeenRun[], facts: GroupFacts = {}): GroupRate {
  const { history, meanOf, leastScatter = 0, skewness = 0 } = facts;
  const highPower = HIGH_POWER + SKEW_POWER * skewness;
  const n = runs.length;
  if (n === 0) throw new RangeError('group of runs: at least one run is needed, given none');
  let total = 0;
  let seen = 0;
  const like: Like[] = [];
  const found = new Map<number, Like>();
  runs.forEach((r, i) => {
    if (!(Number.isSafeInteger(r.count) && r.count >= 0)) {
      throw new RangeError(`count: a whole number from 0 is needed, given ${r.count}`);
    }
    if (!(r.fraction > 0 && r.fraction <= 1)) {
      throw new RangeError(`fraction looked at: above 0 and at most 1 is needed, given ${r.fraction}`);
    }
    total += r.count;
    seen += r.fraction;
    const same = meanOf ? undefined : found.get(r.fraction);
    if (same) {
      same.n++;
      same.count += r.count;
    } else {
      const one = { fraction: r.fraction, run: i, n: 1, count: r.count };
      found.set(r.fraction, one);
      like.push(one);
    }
  });

  const lnLikelihood = (rate: number, s2: number): number => {
    let sum = 0;
    for (const l of like) {
      const mean = l.fraction * (meanOf ? meanOf(rate, l.run) : rate);
      if (l.count > 0) sum += l.count * Math.log(mean);
      sum -= s2 < 1e-9 ? l.n * mean : (l.count + l.n / s2) * Math.log1p(s2 * mean);
    }
    return sum;
  };
  const ofScatter = countsGivenScatter(runs);
  const centre = (total + 0.5) / seen;

  // which scatters matter at all: a coarse look along the best rate
  const coarse = 24;
  const room = MOST_SCATTER - leastScatter;
  const heights: number[] = [];
  for (let i = 0; i <= coarse; i++) {
    const s2 = (leastScatter + (room * i) / coarse) ** 2;
    heights.push(lnLikelihood(centre, s2) + ofScatter(s2) + (history ? history(s2) : 0));
  }
  const top = Math.max(...heights);
  let first = heights.findIndex((h) => h > top - 14);
  let last = heights.findLastIndex((h) => h > top - 14);
  first = Math.max(0, first - 1);
  last = Math.min(coarse, last + 1);
  const from = leastScatter + (room * first) / coarse;
  const step = (room * (last - first)) / coarse / SCATTER_POINTS;
  const scatters = Float64Array.from({ length: SCATTER_POINTS }, (_, i) => from + step * (i + 0.5));
  const lnWeight = scatters.map((s) => ofScatter(s * s) + (history ? history(s * s) : 0));

  let expected = 0;
  let weights = 0;
  scatters.forEach((s, i) => {
    const w = Math.exp(lnLikelihood(centre, s * s) + lnWeight[i]! - top);
    expected += w * s * s;
    weights += w;
  });
  const spread = 0.8 * Math.sqrt(1 / (total + 0.5) + expected / weights / n);

  const lnRates = new Float64Array(RATE_POINTS + 1);
  for (let j = 0; j <= RATE_POINTS; j++) {
    lnRates[j] = Math.log(centre) + spread * Math.sinh(-RATE_REACH + (2 * RATE_REACH * j) / RATE_POINTS);
  }
  const rates = lnRates.map(Math.exp);
  const steps = lnRates.map(
    (_, j) => ((lnRates[j + 1] ?? lnRates[j]!) - (lnRates[j - 1] ?? lnRates[j]!)) / 2,
  );
  const low = new Float64Array(RATE_POINTS + 1);
  const high = new Float64Array(RATE_POINTS + 1);
  const byScatter = new Float64Array(SCATTER_POINTS);
  const meanFraction = seen / n;
  const heightOf = (i: number, j: number): number =>
    lnLikelihood(rates[j]!, scatters[i]! ** 2) + lnWeight[i]!;
  const width = RATE_POINTS + 1;
  const ln = Float64Array.from({ length: SCATTER_POINTS * width }, (_, at) =>
    heightOf(Math.floor(at / width), at % width),
  );
  // the highest point lies off the centre where counts do not follow the portions' mass
  const peak = ln.reduce((most, h) => Math.max(most, h), -Infinity);
  for (let i = 0; i < SCATTER_POINTS; i++) {
    const s2 = scatters[i]! ** 2;
    for (let j = 0; j <= RATE_POINTS; j++) {
      const rate = rates[j]!;
      const likelihood = Math.exp(ln[i * width + j]! - peak);
      const lnWide = Math.log1p(s2 * rate * meanFraction);
      const p = likelihood * Math.exp(LOW_POWER * lnWide);
      // per step of ln rate
      low[j]! += p;
      high[j]! += likelihood * rate * Math.exp(highPower * lnWide);
      byScatter[i]! += p * Math.sqrt(rate) * steps[j]!;
    }
  }
  return {
    rate: total / seen,
    low: total === 0 ? known(0) : fromDensity(rates, low, lnRates),
    high: fromDensity(rates, high, lnRates),
    ...scatterKnown(from, step, byScatter),
  };
}

function scatterKnown(
  from: number,
  step: number,
  weights: Float64Array,
): Pick<GroupRate, 'scatter' | 'scatterSquared'> {
  const at = new Float64Array(weights.length + 1);
  const share = new Float64Array(weights.length + 1);
  let sum = 0;
  let squares = 0;
  at[0] = from;
  weights.forEach((w, i) => {
    sum += w;
    squares += w * (from + step * (i + 0.5)) ** 2;
    at[i + 1] = from + step * (i + 1);
    share[i + 1] = sum;
  });
  for (let i = 0; i < share.length; i++) share[i] = share[i]! / sum;
  return { scatter: { at, share }, scatterSquared: squares / sum };
}

/** The part of the ln likelihood that does not hold the rate: Σ over runs of Σ_{j<count} ln(1 + s²·j). */
function countsGivenScatter(runs: readonly SeenRun[]): (s2: number) => number {
  let most = 0;
  for (const r of runs) if (r.count > most) most = r.count;
  // runs with more than j pieces, so that each logarithm is taken once
  const above = new Float64Array(most + 1);
  for (const r of runs) above[r.count]! += 1;
  for (let j = most - 1; j >= 0; j--) above[j]! += above[j + 1]!;
  return (s2) => {
    let sum = 0;
    for (let j = 1; j < most; j++) sum += above[j + 1]! * Math.log1p(s2 * j);
    return sum;
  };
}
