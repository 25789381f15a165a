import { done, type Outcome } from '../../../units/index.ts';
import type { Interval } from '../interval.ts';
import { factorKnowledge } from './factor-knowledge.ts';
import { type GroupRate, groupRate, type SeenRun } from './group-rate.ts';
import {
  differenceBelow,
  fromBelow,
  type Knowledge,
  middleAndSpread,
  productOf,
  quotientBelow,
  solveBelow,
  tabulate,
  valueAt,
} from './knowledge.ts';
import { type Relabelling, relabellingTest } from './labels.ts';
import { type ControlRun, type NetInput, type NetRefusal, refusalOf, type SpecimenRun } from './net-input.ts';
import { recoveryKnowledge } from './recovery-knowledge.ts';
import { scatterHistory } from './scatter-history.ts';
import { shareKnowledge } from './share-knowledge.ts';
import { strataRecovery } from './strata-recovery.ts';
import { trueShareBelow } from './true-share.ts';
import { type VarianceShare, varianceShares } from './variance-shares.ts';

export interface NetDecision {
  /** More than the background, one-sided at alpha. */
  readonly above: boolean;
  readonly p: number;
  readonly alpha: number;
  /** By relabelling runs, or by the model where labels cannot be exchanged. */
  readonly by: 'labels' | 'model';
  readonly labels: Relabelling;
  readonly modelP: number;
}

export interface NetRelease {
  readonly perGram: Interval;
  /** Per piece of product, where the portions' pieces are known. */
  readonly perPiece: Interval | null;
  /** Per specimen run (one act on one portion). */
  readonly perAct: Interval;
  /** Background per whole run, before any correction for recovery. */
  readonly background: Interval;
  /** “Fewer than”, one-sided at the confidence. */
  readonly upperLimitPerGram: number;
  /** True when the limit was held at what “none found, no background” would give. */
  readonly upperLimitHeld: boolean;
  /** Probability that specimens release more than nothing, given these counts. */
  readonly probabilityAbove: number;
  readonly decision: NetDecision;
  /** Scatter between runs beyond counting (coefficient of variation). */
  readonly scatter: { readonly specimens: Interval; readonly controls: Interval };
  /** Recovery used, null when not measured. */
  readonly recovery: Interval | null;
  readonly variance: readonly VarianceShare[];
  readonly method: string;
}

/** Fractions at most this unequal are thinned to the least; beyond, the model decides, for thinning would waste counts. */
const THIN_DOWN_TO = 0.7;

interface Sides {
  readonly low: Knowledge;
  readonly high: Knowledge;
  readonly value: number;
}

/**
 * Net release of specimen runs over matching controls, jointly with fraction looked at, recovery, scatter between runs
 * on both sides, and the share of true pieces.
 *
 * Model: count ~ Poisson(fraction · rate · G), G gamma with mean 1 and its own scatter on each side; specimens' rate =
 * background + R · release · mass. Each unknown is summed out on a grid; ends of the interval take every part from its
 * unfavourable exact side, so that with no scatter they are exact Poisson and binomial limits melded. The decision is
 * the relabelling test where fractions are alike, else the model's own tail. Nothing is drawn at random but thinnings.
 *
 * Sources: Garwood 1936; Jeffreys' prior of the negative binomial mean; Fay, Proschan & Brittain 2015, Biometrics 71:146
 * (melding); Fisher 1935 (relabelling). Calibration: docs/calibration.md. Holds for: at least 3 specimen runs and 3
 * controls; scatter to 150 %. Deceives when: controls did not go through the same steps; runs drift; background grows
 * with the portion's mass; recovery of spikes is not the recovery of what the product sheds.
 */
export function estimateNetRelease(input: NetInput): Outcome<NetRelease, NetRefusal> {
  const refusal = refusalOf(input);
  if (refusal) return refusal;
  const { confidence } = input;
  const tail = (1 - confidence) / 2;
  const alpha = 1 - confidence;
  const controls = input.controls.map(seen);
  const specimens = input.specimens.map(seen);
  const history = input.history ? scatterHistory(input.history) : undefined;
  const background = groupRate(controls, history ? { history } : {});
  const rate = totalRate(specimens);
  const leastScatter = Math.min(
    MOST_FLOOR,
    (valueAt(background.scatter, FLOOR_SHARE) * background.rate) / Math.max(rate, background.rate, 1e-12),
  );
  // a run is background plus release: half and half is the most skewed such sum
  const part = Math.min(1, background.rate / Math.max(rate, 1e-12));
  const skewness = 4 * part * (1 - part);
  const forAmounts = (amounts: readonly number[]): { gross: GroupRate; mean: number } => {
    const mean = weightedMean(amounts, specimens);
    const b = background.rate;
    const meanOf = (r: number, run: number): number => (r > b ? b + ((r - b) * amounts[run]!) / mean : r);
    return {
      gross: groupRate(
        specimens,
        isAlike(amounts) ? { leastScatter, skewness } : { leastScatter, skewness, meanOf },
      ),
      mean,
    };
  };

  const share = sharesOf(input);
  const recovery = recoveryOf(input, specimens, controls);
  const extent = { specimens: extentOf(input.specimens), controls: extentOf(input.controls) };
  const divisor = divisorOf(input, recovery);
  const backgroundTrue = timesFactor(timesShare(background, share.controls), extent.controls);
  const net = (amounts: readonly number[]): Net => {
    const { gross, mean } = forAmounts(amounts);
    const grossTrue = timesFactor(timesShare(gross, share.specimens), extent.specimens);
    return netOf(grossTrue, backgroundTrue, divisor, mean, gross);
  };
  const perAmount = (amounts: readonly number[]): Interval => {
    // alike portions: the same net in another unit
    const factor = masses.mean / weightedMean(amounts, specimens);
    if (isAlike(amounts) && isAlike(input.specimens.map((s) => s.massG))) return times(perGram, factor);
    return net(amounts).interval(tail, confidence);
  };
  const masses = net(input.specimens.map((s) => s.massG));
  const perGram = masses.interval(tail, confidence);

  const decide = (): NetDecision => {
    const labels = relabellingTest(specimens, controls, input.seed ?? 1);
    const modelP = masses.below.low(0);
    const fractions = [...specimens, ...controls].map((r) => r.fraction);
    const exchangeable =
      !input.confirmation && Math.min(...fractions) >= THIN_DOWN_TO * Math.max(...fractions);
    const p = exchangeable ? labels.p : modelP;
    return { above: p <= alpha, p, alpha, by: exchangeable ? 'labels' : 'model', labels, modelP };
  };
  let decision: NetDecision | null = null;

  const limit = masses.end('high', confidence);
  const looked = specimens.reduce((sum, s) => sum + s.fraction, 0);
  const noneFound = (-Math.log(alpha) * share.specimens.value) / (looked * divisor.value * masses.mean);
  return done({
    perGram,
    perPiece: input.specimens.every((s) => s.pieces !== undefined)
      ? perAmount(input.specimens.map((s) => s.pieces ?? 1))
      : null,
    perAct: perAmount(input.specimens.map(() => 1)),
    background: {
      value: background.rate,
      lower: Math.max(0, valueAt(background.low, tail)),
      upper: valueAt(background.high, 1 - tail),
      confidence,
    },
    upperLimitPerGram: Math.max(limit, noneFound),
    upperLimitHeld: noneFound > limit,
    probabilityAbove: 1 - (masses.below.low(0) + masses.below.high(0)) / 2,
    // relabelling costs more than all the rest, and a plan asks for the limit alone
    get decision() {
      decision ??= decide();
      return decision;
    },
    scatter: {
      specimens: scatterInterval(masses.gross, confidence),
      controls: scatterInterval(background, confidence),
    },
    recovery: recovery && recoveryInterval(recovery, confidence),
    variance: varianceShares({
      specimens,
      controls,
      gross: masses.gross,
      background,
      shares: { specimens: relative(share.specimens), controls: relative(share.controls) },
      divisor: relative(divisor),
      extent,
    }),
    method: METHOD,
  });
}

const METHOD =
  'Joint model of specimen runs and controls: negative binomial counts on both sides with their own scatter, fractions, recovery and shares summed out by quadrature; exact limits melded; decision by relabelling the runs.';

/** Share of the controls' scatter knowledge that the specimens' scatter is held above. */
const FLOOR_SHARE = 0.25;
const MOST_FLOOR = 1;

const seen = (run: { count: number; passed: number; examined: number }): SeenRun => ({
  count: run.count,
  fraction: run.passed * run.examined,
});

function totalRate(runs: readonly SeenRun[]): number {
  let count = 0;
  let fraction = 0;
  for (const r of runs) {
    count += r.count;
    fraction += r.fraction;
  }
  return count / fraction;
}

function weightedMean(amounts: readonly number[], runs: readonly SeenRun[]): number {
  let sum = 0;
  let weight = 0;
  runs.forEach((r, i) => {
    sum += r.fraction * amounts[i]!;
    weight += r.fraction;
  });
  return sum / weight;
}

const isAlike = (amounts: readonly number[]): boolean =>
  amounts.every((a) => Math.abs(a - amounts[0]!) <= 1e-9 * amounts[0]!);

const times = (i: Interval, factor: number): Interval => ({
  value: i.value * factor,
  lower: i.lower * factor,
  upper: i.upper * factor,
  confidence: i.confidence,
});

interface Net {
  readonly mean: number;
  readonly gross: GroupRate;
  readonly below: { readonly low: (x: number) => number; readonly high: (x: number) => number };
  readonly end: (side: 'low' | 'high', share: number) => number;
  readonly interval: (tail: number, confidence: number) => Interval;
}

/** Net per unit of amount: (gross − background) / (divisor · mean amount), with both unfavourable curves. */
function netOf(
  gross: Sides,
  background: Sides,
  divisor: Sides | typeof NONE,
  mean: number,
  group: GroupRate,
): Net {
  const difference = {
    low: differenceBelow(gross.low, background.high),
    high: differenceBelow(gross.high, background.low),
  };
  const netValue = gross.value - background.value;
  const spread = middleAndSpread(gross.high).spread + middleAndSpread(background.high).spread + 1e-9;
  const below =
    divisor.low === null
      ? difference
      : {
          low: quotientBelow(tabulate(difference.low, netValue, spread), divisor.low),
          high: quotientBelow(tabulate(difference.high, netValue, spread), divisor.high),
        };
  const value = netValue / divisor.value;
  const width = spread / divisor.value;
  const end = (side: 'low' | 'high', share: number): number =>
    solveBelow(below[side], share, value, width) / mean;
  return {
    mean,
    gross: group,
    below,
    end,
    interval: (tail, confidence) => ({
      value: value / mean,
      lower: Math.min(value / mean, end('low', tail)),
      upper: Math.max(value / mean, end('high', 1 - tail)),
      confidence,
    }),
  };
}

const NONE = { value: 1, low: null, high: null } as const;

/** Recovery, times the share of true pieces that the scorer keeps where nothing was confirmed. */
function divisorOf(input: NetInput, recovery: Sides | null): Sides | typeof NONE {
  const parts: Sides[] = recovery ? [recovery] : [];
  if (input.drill && !input.confirmation) {
    const [k, n] = input.drill.truePositive;
    const kept = shareKnowledge({ k, n });
    parts.push({ low: kept.high, high: kept.low, value: k / n });
  }
  if (parts.length === 0) return NONE;
  return parts.reduce((a, b) => ({
    low: productOf(a.low, b.low),
    high: productOf(a.high, b.high),
    value: a.value * b.value,
  }));
}

/** Share of true pieces on each side, by the confirmed subset and the test's errors. */
function sharesOf(input: NetInput): { specimens: Sides | typeof NONE; controls: Sides | typeof NONE } {
  if (!input.confirmation) return { specimens: NONE, controls: NONE };
  const side = (tested: { positive: number; tested: number }): Sides => {
    const observed = { k: tested.positive, n: tested.tested };
    if (!input.drill) return { ...shareKnowledge(observed), value: observed.k / observed.n };
    const [hits, shown] = input.drill.truePositive;
    const [wrong, others] = input.drill.falsePositive;
    const curves = trueShareBelow(observed, { k: hits, n: shown }, { k: wrong, n: others });
    const value = (observed.k / observed.n - wrong / others) / (hits / shown - wrong / others);
    return { low: fromBelow(curves.low, 0, 1), high: fromBelow(curves.high, 0, 1), value };
  };
  return { specimens: side(input.confirmation.specimens), controls: side(input.confirmation.controls) };
}

const timesShare = (group: GroupRate, share: Sides | typeof NONE): Sides =>
  share.low === null
    ? { low: group.low, high: group.high, value: group.rate }
    : {
        low: productOf(group.low, share.low),
        high: productOf(group.high, share.high),
        value: group.rate * share.value,
      };

function relative(sides: Sides | typeof NONE): { value: number; relativeVariance: number } {
  if (sides.low === null) return { value: 1, relativeVariance: 0 };
  const { spread } = middleAndSpread(sides.high);
  return { value: sides.value, relativeVariance: sides.value === 0 ? 0 : (spread / sides.value) ** 2 };
}

const scatterInterval = (group: GroupRate, confidence: number): Interval => ({
  value: valueAt(group.scatter, 0.5),
  lower: valueAt(group.scatter, (1 - confidence) / 2),
  upper: valueAt(group.scatter, (1 + confidence) / 2),
  confidence,
});

function recoveryOf(
  input: NetInput,
  specimens: readonly SeenRun[],
  controls: readonly SeenRun[],
): Sides | null {
  if (input.strata && input.strata.length > 0) {
    const looked = (runs: readonly SeenRun[]): number => runs.reduce((sum, r) => sum + r.fraction, 0);
    const { knowledge, value } = strataRecovery(input.strata, looked(specimens) / looked(controls));
    return { low: knowledge, high: knowledge, value };
  }
  if (input.spikes.length === 0) return null;
  const known = recoveryKnowledge(input.spikes);
  let found = 0;
  let added = 0;
  for (const s of input.spikes) {
    found += s.found;
    added += s.added;
  }
  return { low: known, high: known, value: found / added };
}

/** Relative uncertainty of what was looked at of a whole side, the runs' own uncertainties taken as independent. */
function extentOf(runs: readonly (SpecimenRun | ControlRun)[]): number {
  let looked = 0;
  let squares = 0;
  for (const r of runs) {
    looked += r.passed * r.examined;
    squares += (r.passed * r.examined * (r.effortUncertainty ?? 0)) ** 2;
  }
  return Math.sqrt(squares) / looked;
}

function timesFactor(sides: Sides, relativeUncertainty: number): Sides {
  if (relativeUncertainty === 0) return sides;
  const factor = factorKnowledge(relativeUncertainty);
  return { low: productOf(sides.low, factor), high: productOf(sides.high, factor), value: sides.value };
}

const recoveryInterval = ({ low, value }: Sides, confidence: number): Interval => ({
  value,
  lower: Math.min(value, valueAt(low, (1 - confidence) / 2)),
  upper: Math.max(value, valueAt(low, (1 + confidence) / 2)),
  confidence,
});
