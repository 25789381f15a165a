import { done, type Outcome, refused } from '../../units/index.ts';
import { studentUpperQuantile } from '../maths/index.ts';
import { BLOCKING_LAWS, type BlockingLaw, lastVolume, lawOf } from './blocking-laws.ts';
import { checkedMarks, type VolumeMark } from './volume-marks.ts';

/** A filter counts as full when its flow has fallen to this share of the start. Common practice, no source. */
export const FULL_AT_FLOW = 0.1;
/** From this probability on a law is named; below it they cannot be told apart. */
export const NAMED_FROM = 0.75;
/** Band of every forecast. */
export const BAND = 0.9;

/** What is known of timing before the marks speak: relative scatter and its weight in marks; a tap's own delay in s. */
const TIMING = { scatter: 0.03, worthMarks: 2, tapS: 0.25 } as const;
/** Probability of each law before the marks, where one is named: complete blocking ends earliest and has twice the others' share. */
const BEFOREHAND: Readonly<Record<BlockingLaw, number>> = {
  complete: 0.4,
  standard: 0.2,
  intermediate: 0.2,
  cake: 0.2,
};
/**
 * Shares of the laws in the band of capacity. The marks tell the laws apart late, and then the one that ends earliest is missed on its low
 * side; weighed so, the band holds each law about as often and is narrower besides. Chosen by simulation
 * (docs/methods/filtration.md).
 */
const IN_CAPACITY: Readonly<Record<BlockingLaw, number>> = {
  complete: 0.7,
  standard: 0.17,
  intermediate: 0.08,
  cake: 0.05,
};
/**
 * Weight of many marks against as many independent ones: errors of neighbouring taps go together where each is read from the one
 * before it. Chosen by simulation so that the band covers whether errors lie in the elapsed time or in the steps
 * (docs/methods/filtration.md).
 */
const trust = (marks: number): number => Math.min(1, 0.8 * Math.sqrt(12 / marks));
/** Capacities that are thought possible, as multiples of the volume passed so far; evenly in their logarithm. */
const POSSIBLE = { least: 0.15, most: 100 } as const;
/** Beyond this multiple of what has passed no ceiling is in sight. */
const IN_SIGHT = 40;

/** A range in which the value lies with the stated probability. `upper` null: no ceiling is in sight. */
export interface Band {
  readonly value: number;
  readonly lower: number;
  readonly upper: number | null;
  readonly confidence: number;
}

export interface LawFit {
  readonly law: BlockingLaw;
  /** How probable this law is against the other three, given the marks. */
  readonly probability: number;
  readonly flowMlS: number;
  readonly lossPerMl: number;
  /** Volume at which nothing more passes; null where the law has no end. */
  readonly lastVolumeMl: number | null;
  /** Root mean square of the relative residuals of time. */
  readonly scatter: number;
}

export interface FlowForecast {
  readonly marks: readonly VolumeMark[];
  readonly laws: readonly LawFit[];
  /** The law that can be named, or null where they cannot be told apart. */
  readonly named: BlockingLaw | null;
  /** Volume at which the flow has fallen to a tenth of its start. */
  readonly capacityMl: Band;
  /** Flow now, as a share of the starting flow. */
  readonly flowNow: Band;
  readonly startFlowMlS: number;
  /** True when even the best law misses the marks by more than a tenth. */
  readonly followsNoLaw: boolean;
  /** Nodes of the posterior: law, loss per mL, starting flow, weight (they sum to 1). */
  readonly nodes: readonly ForecastNode[];
}

export interface ForecastNode {
  readonly law: BlockingLaw;
  readonly lossPerMl: number;
  readonly flowMlS: number;
  /** Standard error of ln flow at this node. */
  readonly lnFlowError: number;
  readonly weight: number;
}

/**
 * Forecast from a few timed volumes. The four laws are compared on ln t; capacity is evenly possible beforehand
 * in its logarithm from 0.15 to 100 times what has passed; starting flow is free; the scatter of timing is learned from
 * the marks, beginning at 3 % with the weight of two marks. All four laws speak in the band, each by its probability.
 *
 * Refused: what `checkedMarks` refuses, and a flow that speeds up.
 * Holds for: constant pressure, one liquid, one law at a time. Deceives when: the vacuum changes, the funnel is topped up with
 * something else, solids settle in the funnel, or a second law takes over after the last mark.
 */
export function forecastFlow(given: readonly VolumeMark[]): Outcome<FlowForecast> {
  const checked = checkedMarks(given);
  if (!checked.ok) return checked;
  const marks = checked.value;
  const sample = sampleOf(marks);
  const faster = speedingUp(sample);
  if (faster !== null) return refused(faster);
  const grids = BLOCKING_LAWS.map((law) => gridOf(law, sample));
  const best = Math.max(...grids.flatMap((grid) => grid.map((node) => node.lnWeight)));
  const all = grids.flat().map((node) => ({ ...node, weight: Math.exp(node.lnWeight - best) }));
  const whole = all.reduce((sum, node) => sum + node.weight, 0);
  const nodes: ForecastNode[] = all.map(({ law, lossPerMl, lnSlowness, error, weight }) => ({
    law,
    lossPerMl,
    flowMlS: Math.exp(-lnSlowness),
    lnFlowError: error,
    weight: weight / whole,
  }));
  const laws = BLOCKING_LAWS.map((law, at) =>
    fitOf(
      law,
      grids[at]!,
      all.filter((node) => node.law === law).reduce((sum, node) => sum + node.weight, 0) / whole,
      sample.sumWeights,
    ),
  );
  const last = marks[marks.length - 1]!;
  const likeliest = laws.reduce((a, b) => (b.probability > a.probability ? b : a));
  const capacity = band(
    evenly(nodes),
    ({ law, lossPerMl }) => lawOf(law).atFlow(FULL_AT_FLOW) / lossPerMl,
    last.volumeMl * IN_SIGHT,
  );
  return done({
    marks,
    laws,
    named: likeliest.probability >= NAMED_FROM ? likeliest.law : null,
    capacityMl: capacity,
    flowNow: band(nodes, ({ law, lossPerMl }) => lawOf(law).flow(lossPerMl * last.volumeMl), Infinity),
    startFlowMlS: band(nodes, (node) => node.flowMlS, Infinity).value,
    followsNoLaw: likeliest.scatter > 0.1,
    nodes,
  });
}

/** The nodes with the laws in the shares of the capacity's band; the weights sum to 1. */
function evenly(nodes: readonly ForecastNode[]): readonly ForecastNode[] {
  const shared = nodes.map((node) => ({
    ...node,
    weight: (node.weight * IN_CAPACITY[node.law]) / BEFOREHAND[node.law],
  }));
  const whole = shared.reduce((sum, node) => sum + node.weight, 0);
  return shared.map((node) => ({ ...node, weight: node.weight / whole }));
}

/** Logarithms of the marks with their weights: a tap's own delay makes early marks count less. */
interface Sample {
  readonly n: number;
  readonly volumes: readonly number[];
  readonly lnTimePerMl: readonly number[];
  readonly weights: readonly number[];
  readonly sumWeights: number;
}

function sampleOf(marks: readonly VolumeMark[]): Sample {
  const weights = marks.map(({ timeS }) => 1 / (1 + (TIMING.tapS / (TIMING.scatter * timeS)) ** 2));
  return {
    n: marks.length,
    volumes: marks.map((mark) => mark.volumeMl),
    lnTimePerMl: marks.map((mark) => Math.log(mark.timeS / mark.volumeMl)),
    weights,
    sumWeights: weights.reduce((sum, w) => sum + w, 0),
  };
}

interface GridNode {
  readonly law: BlockingLaw;
  readonly lossPerMl: number;
  readonly lnSlowness: number;
  readonly error: number;
  readonly squares: number;
  readonly lnWeight: number;
}

const COARSE = 240;
const FINE = 360;
const NEGLIGIBLE = 16;

/** A law over the capacities that are thought possible: coarse first, then finely where it matters. */
function gridOf(law: BlockingLaw, sample: Sample): GridNode[] {
  const last = sample.volumes[sample.n - 1]!;
  const { atFlow, end } = lawOf(law);
  // A law with an end must let the last mark pass.
  const least = Math.log(
    Math.max(POSSIBLE.least, end === null ? 0 : (atFlow(FULL_AT_FLOW) / end) * (1 + 1e-9)) * last,
  );
  const most = Math.log(POSSIBLE.most * last);
  const at = (lnCapacity: number, step: number): GridNode => {
    const lossPerMl = atFlow(FULL_AT_FLOW) / Math.exp(lnCapacity);
    const fit = fitAt(law, lossPerMl, sample);
    const freedom = TIMING.worthMarks + sample.n - 1;
    const spread = TIMING.worthMarks * TIMING.scatter ** 2 + fit.squares;
    return {
      law,
      lossPerMl,
      lnSlowness: fit.lnSlowness,
      error: Math.sqrt(spread / freedom / sample.sumWeights),
      squares: fit.squares,
      lnWeight: Math.log(BEFOREHAND[law] * step) - 0.5 * trust(sample.n) * freedom * Math.log(spread),
    };
  };
  const sweep = (from: number, to: number, count: number): GridNode[] => {
    const step = (to - from) / count;
    return Array.from({ length: count }, (_, i) => at(from + (i + 0.5) * step, step));
  };
  const coarse = sweep(least, most, COARSE);
  const best = Math.max(...coarse.map((node) => node.lnWeight));
  const matters = coarse.flatMap((node, i) => (node.lnWeight > best - NEGLIGIBLE ? [i] : []));
  const step = (most - least) / COARSE;
  const from = least + Math.max(0, matters[0]! - 1) * step;
  const to = least + Math.min(COARSE, matters[matters.length - 1]! + 2) * step;
  return sweep(from, to, FINE);
}

function fitAt(law: BlockingLaw, lossPerMl: number, sample: Sample): { lnSlowness: number; squares: number } {
  const { lnDelay } = lawOf(law);
  const rest = sample.lnTimePerMl.map((y, i) => y - lnDelay(lossPerMl * sample.volumes[i]!));
  const lnSlowness = rest.reduce((sum, r, i) => sum + sample.weights[i]! * r, 0) / sample.sumWeights;
  const squares = rest.reduce((sum, r, i) => sum + sample.weights[i]! * (r - lnSlowness) ** 2, 0);
  return { lnSlowness, squares };
}

function fitOf(law: BlockingLaw, grid: readonly GridNode[], probability: number, sumWeights: number): LawFit {
  const best = grid.reduce((a, b) => (b.squares < a.squares ? b : a));
  return {
    law,
    probability,
    flowMlS: Math.exp(-best.lnSlowness),
    lossPerMl: best.lossPerMl,
    lastVolumeMl: lastVolume(law, best.lossPerMl),
    scatter: Math.sqrt(best.squares / sumWeights),
  };
}

/** Weighted quantiles of what the nodes say; a quantile at or beyond the ceiling is not in sight. */
export function band(
  nodes: readonly ForecastNode[],
  of: (node: ForecastNode) => number,
  ceiling: number,
): Band {
  const said = nodes.map((node) => [of(node), node.weight] as const).sort((a, b) => a[0] - b[0]);
  const [lower, value, upper] = quantiles(said, [(1 - BAND) / 2, 0.5, (1 + BAND) / 2]);
  return {
    value: value!,
    lower: lower!,
    upper: upper! >= ceiling || !Number.isFinite(upper) ? null : upper!,
    confidence: BAND,
  };
}

/** Quantiles of sorted [value, weight] pairs whose weights sum to 1. */
export function quantiles(
  sorted: readonly (readonly [number, number])[],
  shares: readonly number[],
): number[] {
  const out: number[] = [];
  let sum = 0;
  let at = 0;
  for (const share of shares) {
    while (at < sorted.length - 1 && sum + sorted[at]![1] < share) {
      sum += sorted[at]![1];
      at++;
    }
    out.push(sorted[at]![0]);
  }
  return out;
}

/** Slope of ln(t/V) on V: a flow that speeds up beyond chance (1 in 100) follows none of the four laws. */
function speedingUp(sample: Sample): { why: string; message: string } | null {
  const last = sample.volumes[sample.n - 1]!;
  const x = sample.volumes.map((v) => v / last);
  const mean = (of: readonly number[]) =>
    of.reduce((sum, value, i) => sum + sample.weights[i]! * value, 0) / sample.sumWeights;
  const [mx, my] = [mean(x), mean(sample.lnTimePerMl)];
  const sxx = x.reduce((sum, v, i) => sum + sample.weights[i]! * (v - mx) ** 2, 0);
  const sxy = x.reduce((sum, v, i) => sum + sample.weights[i]! * (v - mx) * (sample.lnTimePerMl[i]! - my), 0);
  const slope = sxy / sxx;
  const squares = x.reduce(
    (sum, v, i) => sum + sample.weights[i]! * (sample.lnTimePerMl[i]! - my - slope * (v - mx)) ** 2,
    0,
  );
  const freedom = TIMING.worthMarks + sample.n - 2;
  const error = Math.sqrt((TIMING.worthMarks * TIMING.scatter ** 2 + squares) / freedom / sxx);
  if (slope >= -0.05 || slope > -studentUpperQuantile(0.01, freedom) * error) return null;
  return {
    why: 'flow-speeds-up',
    message: `The flow speeds up by about ${Math.round(100 * (Math.exp(-slope) - 1))} % from the first mark to the last: no filter clogs that way. Was the vacuum still rising, the funnel tilted, or is the filter torn or leaking at its rim?`,
  };
}
