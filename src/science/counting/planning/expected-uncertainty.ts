import type { Design, PlanWish } from './plan-wish.ts';

/** Variance of the mean net count per run (as looked at) that this design leaves, when the net is `net` per run. */
export function varianceOf(
  wish: PlanWish,
  { specimens, controls }: Pick<Design, 'specimens' | 'controls'>,
  net: number,
): number {
  const { truth, fraction } = wish;
  const background = fraction * truth.background;
  // half a piece keeps an empty group from having no variance
  const ofBackground = background + truth.backgroundScatter * background ** 2;
  const ofRelease = net + truth.releaseScatter * net ** 2;
  return (
    (ofBackground + ofRelease + 0.5 / specimens) / specimens + (ofBackground + 0.5 / controls) / controls
  );
}

/**
 * Relative standard uncertainty of the net that a design can be expected to leave, to first order: counting and scatter
 * of both sides, recovery (spiked runs and their scatter), share of true pieces. Used to rank designs before the better
 * ones are tried on virtual studies. Without a spiked run, recovery is not in it.
 * Source: JCGM 100:2008 (GUM), 5.1.2.  Deceives when: counts are a handful, where the parts do not simply add.
 */
export function expectedUncertainty(wish: PlanWish, design: Design): number {
  const { truth, massG, fraction, confirming } = wish;
  const net = fraction * massG * truth.recovery * truth.releasePerGram;
  if (!(net > 0)) return Infinity;
  let relative = varianceOf(wish, design, net) / net ** 2;
  if (design.spikes > 0) {
    const { recovery, recoverySd } = truth;
    const counting = (recovery * (1 - recovery)) / wish.addedPerSpike;
    relative += (recoverySd ** 2 + counting) / design.spikes / recovery ** 2;
  }
  if (design.tested > 0 && confirming) {
    const share = confirming.trueShare;
    const gross = net + fraction * truth.background;
    relative += ((gross / net) ** 2 * (1 - share + 0.5 / design.tested)) / share / design.tested;
  }
  return Math.sqrt(relative);
}
