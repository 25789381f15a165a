import { type Judgement, limitWithinReach, type PlanWish } from '../../science/counting/index.ts';
import type { NextStep } from './claim.ts';
import { twoFigures } from './figures.ts';

const MORE = 2;
/** A move smaller than this is none. */
const HARDLY = 0.03;
/** Spiked runs and pieces in each, where recovery was measured. Common practice, no source. */
const SPIKES = 3;
const PIECES = 40;
const RECOVERY_SD = 0.05;

/** More runs like those that were made, as the planning engine takes them: nothing released, scatter and recovery as found. */
function wishFrom({ specimens, controls, gramsPerPortion, joint, confidence }: Judgement): PlanWish | null {
  if (!joint) return null;
  const recovery = joint.recovery?.value ?? 1;
  return {
    truth: {
      background: joint.background.value,
      releasePerGram: 0,
      backgroundScatter: joint.scatter.controls.value ** 2,
      releaseScatter: joint.scatter.specimens.value ** 2,
      recovery,
      recoverySd: Math.min(RECOVERY_SD, (1 - recovery) / 2),
    },
    massG: gramsPerPortion,
    fraction: Math.min(1, (specimens.effort + controls.effort) / (specimens.runs + controls.runs)),
    hours: { specimen: 1, control: 1, spike: 1, available: 1 },
    addedPerSpike: PIECES,
    confidence,
  };
}

/**
 * What two more controls, or two more specimen runs, would make of the upper limit: the limit as it is, times what a
 * typical study gains by them. The one that gains more comes; none where neither moves it.
 */
export function limitWithMoreRuns(judgement: Judgement): NextStep[] {
  const wish = wishFrom(judgement);
  if (!wish) return [];
  const { specimens, controls, upperLimitPerGram: now } = judgement;
  const spikes = judgement.recovery ? SPIKES : 0;
  const typical = (n: number, m: number): number | null => limitWithinReach(wish, n, m, spikes);
  const here = typical(specimens.runs, controls.runs);
  if (here === null || !(here > 0)) return [];
  const ways = [
    { what: `${MORE} more controls`, limit: typical(specimens.runs, controls.runs + MORE) },
    { what: `${MORE} more specimen runs`, limit: typical(specimens.runs + MORE, controls.runs) },
  ].flatMap(({ what, limit }) => (limit === null || limit > here * (1 - HARDLY) ? [] : [{ what, limit }]));
  const best = ways.sort((a, b) => a.limit - b.limit)[0];
  if (!best) return [];
  return [
    {
      why: 'more-runs-for-limit',
      message: `Make ${best.what}.`,
      moves: `If they look like the others, the upper limit goes from ${twoFigures(now)} to about ${twoFigures((now * best.limit) / here)} per gram.`,
    },
  ];
}
