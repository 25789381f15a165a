import type { Refusal } from '../../units/index.ts';
import type { PlanAnswers } from './answers.ts';

const wrong = (why: string, message: string): Refusal => ({ why, message });
const within = (what: string, value: number, least: number, most: number, unit: string): Refusal | null =>
  Number.isFinite(value) && value >= least && value <= most
    ? null
    : wrong('out-of-range', `${what}: from ${least} to ${most} ${unit} is taken; given ${value}.`);
const whole = (what: string, value: number | undefined, least: number, most: number): Refusal | null =>
  value === undefined || (Number.isSafeInteger(value) && value >= least && value <= most)
    ? null
    : wrong('out-of-range', `${what}: a whole number from ${least} to ${most} is taken; given ${value}.`);

/** The first answer that no plan can be made of, in one sentence; null: all can stand. */
export function checkAnswers(answers: PlanAnswers): Refusal | null {
  const { changed } = answers;
  if (answers.product.trim() === '') return wrong('no-product', 'Product: say what may shed.');
  if (answers.act === 'mouth' && answers.setting === 'laboratory') {
    return wrong(
      'mouth-in-laboratory',
      'Nothing goes from a laboratory into a mouth: choose a kitchen, with food-grade ware that never saw a laboratory.',
    );
  }
  return (
    within('Minutes', answers.minutes, 0, 20_160, 'min') ??
    within('Liquid of one run', answers.volumeMl, 1, 20_000, 'mL') ??
    within('Food or matrix of one run', answers.matrixG, 0, 1000, 'g') ??
    within('Hottest', answers.hottestC, -20, 100, '°C') ??
    within('Mass of a portion', answers.massG, 0.0001, 10_000, 'g') ??
    within('Hours', answers.hours, 1, 5000, 'h') ??
    whole('Pieces of the product', answers.pieces, 1, 10_000) ??
    whole('Sittings', answers.sessions, 1, 60) ??
    whole('Specimen runs', changed.specimens, 1, 60) ??
    whole('Act controls', changed.controls, 1, 60) ??
    whole('Procedural blanks', changed.blanks, 0, 60) ??
    whole('Spiked runs', changed.spikes, 0, 30) ??
    (changed.sizeFromUm === undefined ? null : within('Pieces from', changed.sizeFromUm, 1, 5000, 'µm')) ??
    (changed.poreUm === undefined ? null : within('Pore', changed.poreUm, 0.1, 1000, 'µm'))
  );
}
