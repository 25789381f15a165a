import { chanceFrom } from '../../maths/index.ts';
import { meetsMinimum } from '../design-minimum.ts';
import { relabellingTest } from '../joint/labels.ts';
import { estimateNet } from '../net-estimate.ts';
import { asCounts, asSeen, meanOf } from './as-counted.ts';
import { alphaOf, type Design, layoutOf, type PlanWish, seedOf } from './plan-wish.ts';
import { drawStudy, type Errors } from './virtual-study.ts';

const DRAWN = 200;
/** Studies judged in full at each step of the search for the edge, and steps. */
const AT_A_STEP = 3;
const STEPS = 6;
/** A test and a scorer as one hopes for them: 95 % of true pieces called so, 5 % of others, on 20 known pieces of each. Common practice, no source. */
const SENSITIVITY = 0.95;
const FALSE_RATE = 0.05;
const DRILLED = 20;

function errorsOf(wish: PlanWish, tested: number): Errors | undefined {
  if (tested === 0 || !wish.confirming) return undefined;
  const { truth, massG, confirming } = wish;
  // kept pieces that are natural: as many on each side as the share expected says
  const specks = (1 - confirming.trueShare) / confirming.trueShare;
  return {
    specksSpecimen: specks * (truth.background + truth.recovery * massG * truth.releasePerGram),
    specksControl: specks * truth.background,
    sensitivity: SENSITIVITY,
    falseRate: FALSE_RATE,
    drillTrue: DRILLED,
    drillOther: DRILLED,
    tested,
  };
}

/** Rough relative variance of one study's net, from its own counts; Infinity where nothing is left. */
function roughly(study: ReturnType<typeof drawStudy>): number {
  const s = meanOf(study.specimens);
  const c = meanOf(study.controls);
  const net = s.mean - c.mean;
  if (!(net > 0)) return Infinity;
  let square = (s.variance + c.variance) / net ** 2;
  for (const tested of study.confirmation ? Object.values(study.confirmation) : []) {
    const share = (tested.positive + 0.5) / (tested.tested + 1);
    square += (1 - share) / share / (tested.tested + 1);
  }
  return square;
}

/**
 * Chance that a design states an amount: the release is called above the background and both ends of the interval lie
 * within the factor of the value. Of 200 virtual studies put in order of a rough uncertainty, the edge between stated
 * and too wide is found by judging a few of them in full, and the share on its good side is the chance.
 * None without spiked runs or below the minimum design. Monte Carlo error about 4 %.
 */
export function amountChance(wish: PlanWish, design: Design, within: number): number {
  const { specimens, controls, spikes, tested } = design;
  if (spikes === 0 || !meetsMinimum(specimens, controls, alphaOf(wish))) return 0;
  const errors = errorsOf(wish, tested);
  const layout = layoutOf(wish, design);
  const drawn = Array.from({ length: DRAWN }, (_, i) => {
    const study = drawStudy(chanceFrom(seedOf(wish, i)), wish.truth, layout, errors);
    return { study, rough: roughly(study) };
  }).sort((a, b) => a.rough - b.rough);
  const stated = (at: number): boolean => {
    const answer = estimateNet(asCounts(drawn[at]!.study, wish.confidence));
    if (!answer.ok) return false;
    const { value, lower, upper } = answer.value.perGram;
    return value > 0 && lower >= value / within && upper <= value * within;
  };
  const mostly = (at: number): boolean => {
    let yes = 0;
    for (let k = 0; k < AT_A_STEP; k++) if (stated(Math.min(DRAWN - 1, at + k))) yes++;
    return 2 * yes > AT_A_STEP;
  };
  let low = -1;
  let high = DRAWN;
  for (let step = 0; step < STEPS && high - low > AT_A_STEP; step++) {
    const middle = (low + high) >> 1;
    if (mostly(middle)) low = middle;
    else high = middle;
  }
  const edge = low < 0 ? 0 : Math.round((low + Math.min(high, DRAWN)) / 2);
  let both = 0;
  for (const { study } of drawn.slice(0, edge)) {
    if (relabellingTest(asSeen(study.specimens), asSeen(study.controls), 1).p <= alphaOf(wish)) both++;
  }
  return both / DRAWN;
}
