import type { CountingInput } from './counting-input.ts';
import { dispersionTest } from './dispersion.ts';
import type { Interval } from './interval.ts';
import { type DividingShare, type NetParts, netInterval, netLimit } from './net-interval.ts';

export interface MeldedNet {
  readonly perGram: Interval;
  /** One-sided. */
  readonly upperLimit: number;
  /** Index by which counts were taken to scatter beyond Poisson (1: not). */
  readonly scatter: number;
  /** True when the limit rests on “none found” rather than on a background higher than the count. */
  readonly limitHeld: boolean;
}

const effortOf = (run: { passed: number; examined: number }): number => run.passed * run.examined;
const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);

/** Freedom that the scatter must have been measured with before it widens the interval. */
const SCATTER_FREEDOM = 4;

/** Index of scatter within both groups (variance over mean), never below 1; 1 when hardly measured. */
function scatterWithin(input: CountingInput): number {
  let chiSquare = 0;
  let degrees = 0;
  for (const group of [
    // mass weighs in on the specimens' side: a heavier portion sheds more
    { counts: input.portions.map((p) => p.count), efforts: input.portions.map((p) => effortOf(p) * p.massG) },
    { counts: input.controls.map((c) => c.count), efforts: input.controls.map(effortOf) },
  ]) {
    if (group.counts.length < 2 || sum(group.counts) === 0) continue;
    const test = dispersionTest(group.counts, group.efforts);
    chiSquare += test.chiSquare;
    degrees += test.degrees;
  }
  return degrees < SCATTER_FREEDOM ? 1 : Math.max(1, chiSquare / degrees);
}

/** The shares that a net count is divided by: recovery, and true pieces kept by the scorer. */
export function sharesOf(input: CountingInput): { found: number; shown: number }[] {
  const shares: { found: number; shown: number }[] = [];
  if (input.recovery) shares.push({ found: input.recovery.found, shown: input.recovery.added });
  if (input.drill) shares.push({ found: input.drill.truePositive[0], shown: input.drill.truePositive[1] });
  return shares;
}

/** Relative uncertainty of the specimens' summed effort, their own uncertainties taken as independent. */
export function effortUncertainty(input: CountingInput): number {
  const parts = input.portions.map((p) => effortOf(p) * p.massG * (p.effortUncertainty ?? 0));
  return Math.sqrt(sum(parts.map((x) => x * x))) / sum(input.portions.map((p) => effortOf(p) * p.massG));
}

/**
 * Net release per gram: (ΣN − b·Σe) / (R·Σ e·m), with e = passed × examined of each run, b the controls' count per unit
 * of e, R recovery times the share of true pieces that the scorer keeps. Interval: melded exact limits of counts and
 * shares; where runs scatter beyond Poisson, counts and efforts are divided by the index of scatter.
 * Source: Fay, Proschan & Brittain 2015, Biometrics 71:146 (interval); McCullagh & Nelder 1989, §6.2 (index of scatter).
 * Holds for: background brought in by the run whatever the portion's mass; recovery measured with unmistakable pieces.
 * Deceives when: few runs scatter strongly (the index is then badly known); spikes were scored by the same eye as the
 * drill (its share is then counted twice: leave the drill out).
 */
export function meldedNet(input: CountingInput): MeldedNet {
  const efforts = sum(input.portions.map(effortOf));
  const gramEfforts = sum(input.portions.map((p) => effortOf(p) * p.massG));
  const scatter = scatterWithin(input);
  const shares: DividingShare[] = sharesOf(input);
  const relative = effortUncertainty(input);
  if (relative > 0) shares.push({ relative });
  const parts: NetParts = {
    gross: sum(input.portions.map((p) => p.count)) / scatter,
    grossEffort: gramEfforts / scatter,
    background: sum(input.controls.map((c) => c.count)) / scatter,
    backgroundEffort: (sum(input.controls.map(effortOf)) * gramEfforts) / efforts / scatter,
    shares,
  };
  const limit = netLimit(parts, input.confidence, 'upper');
  const ofNone = netLimit({ ...parts, gross: 0, background: 0 }, input.confidence, 'upper');
  return {
    perGram: netInterval(parts, input.confidence),
    upperLimit: Math.max(limit, ofNone),
    scatter,
    limitHeld: ofNone > limit,
  };
}
