import { type Judgement, type NetRelease, netInterval } from '../../science/counting/index.ts';
import type { NextStep } from './claim.ts';
import { percent, range } from './figures.ts';

type Source = NetRelease['variance'][number]['source'];

/** Sources of variance that one piece of work halves, and that work. */
const WORK: readonly {
  readonly sources: readonly Source[];
  readonly why: string;
  readonly message: string;
}[] = [
  {
    sources: ['counting specimens', 'scatter of specimens'],
    why: 'more-specimen-runs',
    message: 'Make as many specimen runs again.',
  },
  {
    sources: ['counting controls', 'scatter of controls'],
    why: 'as-many-controls-again',
    message: 'Make as many controls again.',
  },
  {
    sources: ['recovery and drill'],
    why: 'more-spikes',
    message: 'Make as many spiked runs again, and drill on more pieces.',
  },
  {
    sources: ['share of true pieces'],
    why: 'test-more',
    message: 'Test as many pieces again, drawn at random.',
  },
];

/** Where there are too few runs for the joint model: twice the specimen runs, the same counts again. */
function byMoreRuns(judgement: Judgement): NextStep {
  const { specimens, controls, confidence, perNetCount, netPerGram } = judgement;
  const twice = netInterval(
    {
      gross: 2 * specimens.count,
      grossEffort: 2 / perNetCount,
      background: controls.count,
      backgroundEffort: controls.effort / specimens.effort / perNetCount,
      shares: [],
    },
    confidence,
  );
  return {
    why: 'more-specimen-runs',
    message: 'Make as many specimen runs again.',
    moves: `With the same counts again the interval (${range(netPerGram)}) shrinks to about (${range(twice)}) per gram.`,
  };
}

/** The one piece of work that narrows the interval most, and to what. */
export function narrower(judgement: Judgement): NextStep {
  const { joint, netPerGram, confidence } = judgement;
  if (!joint) return byMoreRuns(judgement);
  const shareOf = (sources: readonly Source[]): number =>
    joint.variance.reduce((sum, part) => (sources.includes(part.source) ? sum + part.share : sum), 0);
  const best = WORK.reduce((a, b) => (shareOf(b.sources) > shareOf(a.sources) ? b : a));
  const share = shareOf(best.sources);
  // twice the work halves its part of the variance
  const left = Math.sqrt(1 - share / 2);
  const { value, lower, upper } = netPerGram;
  const then = {
    value,
    lower: value - (value - lower) * left,
    upper: value + (upper - value) * left,
    confidence,
  };
  return {
    why: best.why,
    message: best.message,
    moves: `${percent(share)} of the uncertainty comes from there: the interval (${range(netPerGram)}) shrinks to about (${range(then)}) per gram.`,
  };
}
