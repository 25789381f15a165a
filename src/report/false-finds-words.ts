import type { OwnFalseFinds } from '../study/index.ts';
import { figure, percent } from './charts/index.ts';
import { many } from './words.ts';

/** 0.25 (0.03 to 0.9 at 95 % confidence); 0.2 to 0.4 where finds are undecided. */
export const ownRateWords = (own: Omit<OwnFalseFinds, 'photographs'>): string => {
  const { least, most, lower, upper, confidence } = own;
  const value = least === most ? figure(most) : `${figure(least)} to ${figure(most)}`;
  return `${value} (${figure(lower)} to ${figure(upper)} at ${percent(confidence)} confidence)`;
};

/** How many false finds the search was asked to accept, and what that gave on own controls, if it was measured. */
export function falseFindsWords(asked: number, photos: number, own: OwnFalseFinds | null): string {
  const wish = `On ${many(photos, 'photograph')} the search was asked to accept ${figure(asked)} false ${asked === 1 ? 'find' : 'finds'} on a photograph of an empty filter; `;
  return own === null
    ? `${wish}what that gives on these membranes was not measured.`
    : `${wish}on ${many(own.photographs, 'photograph')} of the study’s own controls it gave ${ownRateWords(own)}.`;
}
