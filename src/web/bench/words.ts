/** Short words for the bench. */
import {
  amountWords,
  type DeviationKind,
  type Step,
  stepWords,
  type TapDeed,
  type Touches,
} from '../../study/index.ts';
import type { OnDevice } from './on-device.ts';

export const TOUCH_CALLED: { readonly [T in keyof Touches]: string } = {
  vessel: 'Vessel',
  tool: 'Tool',
  liquid: 'Liquid',
  reagentLot: 'Lot',
  place: 'Place',
  person: 'Person',
  filterLot: 'Filter lot',
  optics: 'Optics',
};

export const OTHERWISE_WORDS: { readonly [K in DeviationKind]: string } = {
  changed: 'changed',
  'left-out': 'left out',
  'put-in': 'put in',
};

/** Amounts of a step, the measured ones where there are any. */
export const amountsOf = (step: Step, measured: Readonly<Record<string, number>> = {}): string =>
  Object.entries({ ...step.quantities, ...measured })
    .map(([name, amount]) => amountWords(name, amount))
    .join(' · ');

/** What undo would take back. */
export function undoWords(deed: TapDeed, here: OnDevice): string {
  const step =
    'step' in deed ? here.sheet.steps.find((line) => line.step.key === deed.step)?.step : undefined;
  const called = step ? stepWords(step).split(':')[0]!.toLowerCase() : '';
  switch (deed.do) {
    case 'begin':
      return 'the beginning';
    case 'start':
      return `start of “${called}”`;
    case 'finish':
      return `“${called}” done`;
    case 'uncover':
      return 'uncovered';
    case 'cover':
      return 'covered';
    case 'exposure':
      return 'the minutes typed';
    case 'otherwise':
      return `“${deed.what}”`;
    case 'lay-filter':
      return `filter “${deed.name}”`;
    case 'volume-mark':
      return `mark at ${deed.volume_ml} mL`;
    case 'filtered':
      return 'end of the filtration';
    case 'fraction':
      return `${deed.volume_ml} mL ${deed.kind}`;
    case 'note':
      return 'the note';
    case 'end':
      return 'end of the run';
    case 'undo':
      return 'the last undo';
  }
}
