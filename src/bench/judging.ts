/** Whether a test holds for a piece, whether an answer is one of its answers, and what it says. */
import type { Shape } from '../science/imaging/finding.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { type Answer, type BenchTest, type Judged, NO_RESULTS, NOTHING_SAID } from './bench-test.ts';

export interface PieceAtHand {
  readonly feretMaxUm: number | null;
  readonly shape: Shape;
  /** Of the filter that it lies on; null once it lies on glass. */
  readonly filterMaterial: string | null;
}

/** Why a test does not hold for a piece, in one sentence; null where it does. Outside its range nothing was tested. */
export function outsideRange(test: BenchTest, piece: PieceAtHand): string | null {
  const from = test.holds.fromUm[piece.shape] ?? test.holds.fromUm.fragment;
  const size = piece.feretMaxUm;
  const lower = test.name.toLowerCase();
  if (size === null)
    return `The size of this piece is not known, so ${lower} cannot be judged on it: give the photo a scale.`;
  if (size < from) {
    return `Not tested: ${lower} says nothing on a ${piece.shape} below ${from} µm, and this one has ${Math.round(size)} µm.`;
  }
  if (test.holds.toUm !== null && size > test.holds.toUm) {
    return `Not tested: ${lower} is laid out for pieces up to ${test.holds.toUm} µm, and this one has ${Math.round(size)} µm.`;
  }
  const material = piece.filterMaterial?.toLowerCase() ?? '';
  const not = test.holds.notOn.find(({ word }) => material.includes(word));
  return not ? `Not on this filter: ${not.because}.` : null;
}

const isNoResult = (value: string | number): boolean => NO_RESULTS.some((one) => one.value === value);

/** The answer, if it is one that the test can have. */
export function acceptAnswer(test: BenchTest, answer: Answer): Outcome<Answer> {
  const not = (allowed: string) =>
    refused({
      why: 'not-an-answer',
      message: `${test.name}: “${answer.value}” is none of its answers; ${allowed}.`,
    });
  if (test.settings.length > 0 && !test.settings.some((one) => one.value === answer.setting)) {
    const names = test.settings.map((one) => one.value).join(', ');
    return refused({
      why: 'not-a-setting',
      message: `${test.name}: say what it was done with (${names}).`,
    });
  }
  if (isNoResult(answer.value)) return done(answer);
  const { answer: form } = test;
  if (form.kind === 'yes-no') {
    return answer.value === 'yes' || answer.value === 'no' ? done(answer) : not('yes or no is needed');
  }
  if (form.kind === 'one-of') {
    const names = form.choices.map((one) => one.value).join(', ');
    return form.choices.some((one) => one.value === answer.value)
      ? done(answer)
      : not(`one of ${names} is needed`);
  }
  if (form.kind === 'quantity') {
    const fits = typeof answer.value === 'number' && answer.value >= form.from && answer.value <= form.to;
    return fits ? done(answer) : not(`a number of ${form.unit} from ${form.from} to ${form.to} is needed`);
  }
  const named = typeof answer.value === 'string' && answer.value.trim() !== '' && answer.value.length <= 120;
  return named ? done(answer) : not('the name of a material, or cannot-tell, is needed');
}

/** What an answer says; an answer that is no result says nothing, and that is not a “no”. */
export const whatItSays = (test: BenchTest, answer: Answer): Judged =>
  isNoResult(answer.value)
    ? { ...NOTHING_SAID, says: 'No result: it speaks neither for nor against.' }
    : test.judge(answer);
