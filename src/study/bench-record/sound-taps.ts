import type { Refusal } from '../../units/index.ts';
import { amountsProblem, impossibleStep, uncoveredProblem } from '../records/possible-step.ts';
import type { Step } from '../records/procedure.ts';
import type { TapDeed } from '../records/tap.ts';
import type { BenchTap } from './standing-taps.ts';

/**
 * Why a tap says what cannot be, with the taps that stand before it; null where it can be. A step that the run does not have
 * is left to `strayStep`: one put in and taken back again leaves taps behind that were right when they were made.
 */
export function tapProblem(
  deed: TapDeed,
  steps: readonly Step[],
  before: readonly Pick<BenchTap, 'deed'>[],
): Refusal | null {
  switch (deed.do) {
    case 'finish': {
      const step = steps.find(({ key }) => key === deed.step);
      if (!step) return null;
      const problem = amountsProblem(step, deed.quantities);
      if (problem || deed.quantities.temperature_c === undefined) return problem;
      return impossibleStep({ ...step, quantities: deed.quantities, minutesUncovered: null });
    }
    case 'exposure':
      return uncoveredProblem(deed.step, deed.minutes);
    case 'otherwise':
      return deed.as_done && impossibleStep(deed.as_done);
    case 'volume-mark':
      return fallingMark(deed, before);
    default:
      return null;
  }
}

type Mark = Extract<TapDeed, { readonly do: 'volume-mark' }>;

/** What has passed a filter does not come back. */
function fallingMark(mark: Mark, before: readonly Pick<BenchTap, 'deed'>[]): Refusal | null {
  const last = before
    .map(({ deed }) => deed)
    .filter((deed): deed is Mark => deed.do === 'volume-mark')
    .filter(({ step, filter }) => step === mark.step && filter === mark.filter)
    .at(-1);
  if (!last || mark.volume_ml >= last.volume_ml) return null;
  return {
    why: 'volume-falls',
    message: `step “${mark.step}”: the mark of ${mark.volume_ml} mL comes after one of ${last.volume_ml} mL, and what has passed does not come back; undo the one that is wrong and tap it anew.`,
  };
}

/** A tap on a step that the run does not have. */
export function strayStep(deed: TapDeed, steps: readonly Step[]): Refusal | null {
  if (deed.do === 'otherwise' || !('step' in deed) || deed.step === null) return null;
  return steps.some(({ key }) => key === deed.step)
    ? null
    : {
        why: 'no-such-step',
        message: `The run has no step “${deed.step}”; choose one of its procedure (${steps.map(({ key }) => key).join(', ')}).`,
      };
}

/** Standing taps that can be, and the sentences about those that cannot: they are kept as typed and used for nothing. */
export function soundTaps<T extends BenchTap>(
  standing: readonly T[],
  steps: readonly Step[],
): { readonly sound: readonly T[]; readonly problems: readonly string[] } {
  const sound: T[] = [];
  const problems: string[] = [];
  for (const tap of standing) {
    const problem = tapProblem(tap.deed, steps, sound);
    if (problem) problems.push(problem.message);
    else sound.push(tap);
  }
  return { sound, problems };
}
