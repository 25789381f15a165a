import { normalQuantile } from '../../maths/index.ts';
import { meetsMinimum } from '../design-minimum.ts';
import { type Relabelling, relabellingTest } from '../joint/labels.ts';
import type { NetInput } from '../joint/net-input.ts';
import { asSeen } from './as-counted.ts';
import { drawRuns } from './drawn-runs.ts';
import { varianceOf } from './expected-uncertainty.ts';
import { alphaOf, type PlanWish } from './plan-wish.ts';

export const STUDIES = 400;
/** Virtual studies behind a smallest release: a chance near 80 % is then known to 3 %. */
const STUDIES_A_STEP = 200;
/** Chances this close to the one wanted are as good as equal. */
const CLOSE = 0.01;
const MOST_STEPS = 8;

const labelled = (study: Pick<NetInput, 'specimens' | 'controls'>): Relabelling =>
  relabellingTest(asSeen(study.specimens), asSeen(study.controls), 1);

/**
 * Chance that a release is called above the background, by the decision the joint model uses (relabelling), on virtual
 * studies. Every study has its own seed, so designs and releases are compared on common chance.
 */
export function chanceToSee(
  wish: PlanWish,
  specimens: number,
  controls: number,
  release: number,
  studies = STUDIES,
): number {
  if (!mayClaim(wish, specimens, controls)) return 0;
  let found = 0;
  for (let i = 0; i < studies; i++) {
    if (labelled(drawRuns(wish, { specimens, controls, spikes: 0 }, release, i)).p <= alphaOf(wish)) found++;
  }
  return found / studies;
}

/** Whether a study of this many runs may claim at all, whatever they hold. */
export const mayClaim = (wish: PlanWish, specimens: number, controls: number): boolean =>
  specimens > 0 && controls > 0 && meetsMinimum(specimens, controls, alphaOf(wish));

/** Release at which a normal form of the decision would reach the chance wanted: where the search begins. */
function guess(wish: PlanWish, specimens: number, controls: number, wanted: number): number {
  const { truth, massG, fraction } = wish;
  const z = normalQuantile(wish.confidence) + normalQuantile(wanted);
  const perGram = fraction * massG * truth.recovery;
  let net = 1;
  for (let turn = 0; turn < 6; turn++) {
    net = z * Math.sqrt(varianceOf(wish, { specimens, controls }, net)) + 0.5 / specimens;
  }
  return net / perGram;
}

/**
 * Smallest release per gram that would be called above the background with this chance; null where runs so few
 * may claim nothing. Found between two releases that bracket it, on the normal deviate of the chance, which is nearly a
 * straight line in the release.
 */
export function smallestSeen(
  wish: PlanWish,
  specimens: number,
  controls: number,
  wanted: number,
): number | null {
  if (!(wanted > 0 && wanted < 1)) throw new RangeError(`chance: above 0 and below 1, given ${wanted}`);
  if (!mayClaim(wish, specimens, controls)) return null;
  const sight = (release: number): number => chanceToSee(wish, specimens, controls, release, STUDIES_A_STEP);
  // the ends of the scale are kept finite: 0 and 200 of 200 are not certainty
  const deviate = (p: number): number =>
    normalQuantile(Math.min(1 - 0.25 / STUDIES_A_STEP, Math.max(0.25 / STUDIES_A_STEP, p)));
  const aim = deviate(wanted);
  let low = { at: 0, deviate: deviate(1 - wish.confidence) };
  let high: typeof low | null = null;
  let at = guess(wish, specimens, controls, wanted);
  for (let step = 0; step < MOST_STEPS; step++) {
    const p = sight(at);
    if (Math.abs(p - wanted) <= CLOSE) return at;
    const here = { at, deviate: deviate(p) };
    if (p < wanted) {
      low = here;
      if (at > 1e7) return null;
    } else high = here;
    if (high === null) at *= 1.6;
    else {
      const share = (aim - low.deviate) / Math.max(high.deviate - low.deviate, 1e-9);
      at = low.at + (high.at - low.at) * Math.min(0.9, Math.max(0.1, share));
    }
  }
  return high?.at ?? null;
}
