import { chanceFrom } from '../../maths/index.ts';
import { relabellingTest } from '../joint/labels.ts';
import { FEWEST_CONTROLS, FEWEST_SPECIMENS, type NetInput } from '../joint/net-input.ts';
import { estimateNetRelease } from '../joint/net-release.ts';
import { drawStudy, type Layout, type Truth } from './virtual-study.ts';

/** What a person expects, and what the work costs in hours. */
export interface PlanWish {
  readonly truth: Truth;
  readonly massG: number;
  /** passed × examined, alike on both sides. */
  readonly fraction: number;
  readonly hours: {
    readonly specimen: number;
    readonly control: number;
    readonly spike: number;
    readonly available: number;
  };
  readonly addedPerSpike: number;
  readonly confidence: number;
  readonly seed?: number;
}

/** One way to spend the hours, and what it promises. */
export interface PlannedDesign {
  readonly specimens: number;
  readonly controls: number;
  readonly spikes: number;
  readonly hours: number;
  /** Chance that the release expected would be called more than the background. */
  readonly chance: number;
}

const STUDIES = 400;
const LIMIT_STUDIES = 60;

const layoutOf = (wish: PlanWish, specimens: number, controls: number, spikes: number): Layout => ({
  specimens,
  controls,
  spikes,
  massG: wish.massG,
  specimenFraction: wish.fraction,
  controlFraction: wish.fraction,
  addedPerSpike: wish.addedPerSpike,
});

/**
 * Chance that a release is called above the background, by the decision the joint model uses (relabelling), on virtual
 * studies. Every study has its own seed, so designs and releases are compared on common chance.
 */
export function detectionChance(
  wish: PlanWish,
  specimens: number,
  controls: number,
  release: number,
  studies = STUDIES,
): number {
  const layout = layoutOf(wish, specimens, controls, 0);
  const truth = { ...wish.truth, releasePerGram: release };
  let seen = 0;
  for (let i = 0; i < studies; i++) {
    const study = drawStudy(chanceFrom((wish.seed ?? 1) * 100_003 + i), truth, layout);
    const runs = (list: NetInput['controls']) =>
      list.map((r) => ({ count: r.count, fraction: r.passed * r.examined }));
    if (relabellingTest(runs(study.specimens), runs(study.controls), 1).p <= 1 - wish.confidence + 1e-12)
      seen++;
  }
  return seen / studies;
}

/** Smallest release per gram that would be called above the background with this chance; null when these runs can never reach the level. */
export function smallestSeen(
  wish: PlanWish,
  specimens: number,
  controls: number,
  wanted: number,
): number | null {
  const runs = (n: number) => Array.from({ length: n }, () => ({ count: 0, fraction: 1 }));
  if (relabellingTest(runs(specimens), runs(controls)).smallest > 1 - wish.confidence + 1e-12) return null;
  const chance = (release: number): number =>
    detectionChance(wish, specimens, controls, release, STUDIES / 2);
  let high = 1 / (wish.massG * wish.fraction * wish.truth.recovery);
  while (chance(high) < wanted) {
    high *= 2;
    if (high > 1e6) return null;
  }
  let low = high / 2;
  for (let i = 0; i < 5; i++) {
    const middle = Math.sqrt(low * high);
    if (chance(middle) < wanted) low = middle;
    else high = middle;
  }
  return high;
}

/** Median upper limit per gram when nothing is released: the best “fewer than” that a design has within reach. */
export function limitWithinReach(
  wish: PlanWish,
  specimens: number,
  controls: number,
  spikes: number,
): number | null {
  const layout = layoutOf(wish, specimens, controls, spikes);
  const limits: number[] = [];
  for (let i = 0; i < LIMIT_STUDIES; i++) {
    const study = drawStudy(
      chanceFrom((wish.seed ?? 1) * 100_003 + i),
      { ...wish.truth, releasePerGram: 0 },
      layout,
    );
    const answer = estimateNetRelease({ ...study, confidence: wish.confidence });
    if (answer.ok) limits.push(answer.value.upperLimitPerGram);
  }
  limits.sort((a, b) => a - b);
  return limits[limits.length >> 1] ?? null;
}

/**
 * Every split of the hours between specimen runs and controls that meets the minimum (after the spiked runs), best
 * first. Deceives when: the background or scatter expected is a guess; try twice and half of each.
 */
export function splitsOfHours(wish: PlanWish, spikes: number): PlannedDesign[] {
  const { hours } = wish;
  if (!(hours.specimen > 0 && hours.control > 0)) throw new RangeError('hours per run: above 0 is needed');
  const left = hours.available - spikes * hours.spike;
  const designs: PlannedDesign[] = [];
  for (let specimens = FEWEST_SPECIMENS; specimens <= 24; specimens++) {
    const controls = Math.min(24, Math.floor((left - specimens * hours.specimen) / hours.control));
    if (controls < FEWEST_CONTROLS) break;
    designs.push({
      specimens,
      controls,
      spikes,
      hours: specimens * hours.specimen + controls * hours.control + spikes * hours.spike,
      chance: detectionChance(wish, specimens, controls, wish.truth.releasePerGram, STUDIES / 2),
    });
  }
  return designs.sort((a, b) => b.chance - a.chance || a.hours - b.hours);
}

export interface NextRun {
  readonly adds: 'two controls' | 'two specimen runs' | 'two controls and two specimen runs';
  readonly limitPerGram: number | null;
  readonly smallestSeen80: number | null;
}

/** With what there is: the best claim within reach, and what two more runs of each kind would do to it. */
export function withinReach(
  wish: PlanWish,
  specimens: number,
  controls: number,
  spikes: number,
): {
  readonly limitPerGram: number | null;
  readonly smallestSeen80: number | null;
  readonly smallestSeen95: number | null;
  readonly more: readonly NextRun[];
} {
  const step = (adds: NextRun['adds'], n: number, m: number): NextRun => ({
    adds,
    limitPerGram: limitWithinReach(wish, n, m, spikes),
    smallestSeen80: smallestSeen(wish, n, m, 0.8),
  });
  return {
    limitPerGram: limitWithinReach(wish, specimens, controls, spikes),
    smallestSeen80: smallestSeen(wish, specimens, controls, 0.8),
    smallestSeen95: smallestSeen(wish, specimens, controls, 0.95),
    more: [
      step('two controls', specimens, controls + 2),
      step('two specimen runs', specimens + 2, controls),
      step('two controls and two specimen runs', specimens + 2, controls + 2),
    ],
  };
}
