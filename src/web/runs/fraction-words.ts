import type { Fate, FractionKind } from '../../study/index.ts';

export const PART_WORDS: readonly (readonly [FractionKind, string])[] = [
  ['remainder', 'rest that did not pass'],
  ['passed', 'passed a filter'],
  ['sediment', 'sediment'],
  ['float', 'what floated'],
  ['rinse', 'rinse'],
];
export const FATE_WORDS: readonly (readonly [Fate, string])[] = [
  ['examined', 'on a filter that is looked at'],
  ['kept', 'kept'],
  ['discarded', 'poured away'],
  ['lost', 'spilt or lost'],
];
