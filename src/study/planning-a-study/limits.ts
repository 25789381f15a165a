/** What the planned design may hope to find or to bound, by the counting engine on virtual studies. */
import {
  limitWithinReach,
  MINIMUM_DESIGN,
  type PlanWish,
  smallestSeen,
} from '../../science/counting/index.ts';
import type { PlanAnswers } from './answers.ts';
import { chooseFor, handsOf } from './choices.ts';

export interface ExpectedLimits {
  /** Pieces per gram that would be called above the background four times in five; null: these runs can never reach it. */
  readonly smallestSeenPerGram: number | null;
  /** “Fewer than so many per gram”, typically, where nothing is released; null: not to be had. */
  readonly limitPerGram: number | null;
  readonly sentence: string;
  readonly assumes: string;
}

/** A guess for a first study: pieces on a control; between-run scatter as published blanks show (often more than Poisson). */
export const FIRST_BACKGROUND = 3;

export function expectedLimits(answers: PlanAnswers): ExpectedLimits {
  const chosen = chooseFor(answers);
  const background = answers.changed.background ?? FIRST_BACKGROUND;
  const hands = handsOf(answers, chosen.option !== null && chosen.option.facts.reagent !== 'none');
  const wish: PlanWish = {
    truth: {
      background,
      releasePerGram: answers.changed.releasePerGram ?? 0,
      backgroundScatter: 0.3,
      releaseScatter: 0.2,
      recovery: 0.75,
      recoverySd: 0.1,
    },
    massG: answers.massG,
    fraction: 1,
    hours: { specimen: hands.run, control: hands.run, spike: hands.run, available: answers.hours },
    addedPerSpike: 60,
    confidence: 0.95,
  };
  const seen = smallestSeen(wish, chosen.specimens, chosen.controls, 0.8);
  const limit = limitWithinReach(wish, chosen.specimens, chosen.controls, chosen.spikes);
  const words = (x: number) => Number(x.toPrecision(2));
  return {
    smallestSeenPerGram: seen,
    limitPerGram: limit,
    sentence:
      seen === null
        ? `With so few runs no release, however large, could be called more than the background: it needs ${MINIMUM_DESIGN}.`
        : `A release of about ${words(seen)} pieces per gram would be seen four times in five${
            limit === null
              ? ''
              : `; where nothing is released the claim would typically read “fewer than ${words(limit)} per gram”`
          }.`,
    assumes: `Assumed: ${background} pieces on a control, scatter between runs beyond Poisson, three in four known pieces found again, the whole filter looked at, ${answers.massG} g a portion. The first three controls tell better; change the guess then.`,
  };
}
