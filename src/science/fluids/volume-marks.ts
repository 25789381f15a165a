import { done, type Outcome, refused } from '../../units/index.ts';

/** Since the start of the flow: so many seconds, so many millilitres altogether. */
export interface VolumeMark {
  readonly timeS: number;
  readonly volumeMl: number;
}

export const FEWEST_MARKS = 3;
const MOST_MARKS = 1000;

const figure = (n: number): string => String(Number(n.toPrecision(6)));

/**
 * Marks that a forecast can be made from: at least three after the start, time and volume rising from mark to mark.
 * A first mark at 0 s and 0 mL says when the flow began and is taken off. Everything else is refused with the row that is wrong.
 */
export function checkedMarks(given: readonly VolumeMark[]): Outcome<readonly VolumeMark[]> {
  const no = (why: string, message: string) => refused({ why, message });
  for (const [at, { timeS, volumeMl }] of given.entries()) {
    if (!Number.isFinite(timeS) || !Number.isFinite(volumeMl))
      return no('not-a-number', `Mark ${at + 1}: a time and a volume are needed; one of them is no number.`);
    if (timeS < 0 || volumeMl < 0)
      return no(
        'below-nought',
        `Mark ${at + 1}: ${figure(timeS)} s and ${figure(volumeMl)} mL; both are counted from the start and cannot be below 0.`,
      );
  }
  const marks = given.filter((mark, at) => !(at === 0 && mark.volumeMl === 0));
  const start = given[0] && given[0].volumeMl === 0 ? given[0].timeS : 0;
  for (const [at, mark] of marks.entries()) {
    const row = at + 1 + given.length - marks.length;
    const before = marks[at - 1] ?? { timeS: start, volumeMl: 0 };
    if (mark.timeS < before.timeS)
      return no(
        'clock-runs-back',
        `Mark ${row}: the time goes back from ${figure(before.timeS)} s to ${figure(mark.timeS)} s; put the marks in the order in which they were made and check this one.`,
      );
    if (mark.timeS === before.timeS)
      return no(
        'same-time',
        `Mark ${row}: it has the same time as the one before it, ${figure(mark.timeS)} s; each volume needs its own time.`,
      );
    if (mark.volumeMl < before.volumeMl)
      return no(
        'volume-falls',
        `Mark ${row}: the volume falls from ${figure(before.volumeMl)} mL to ${figure(mark.volumeMl)} mL; write the volume that has passed altogether, not what is left in the funnel and not the step.`,
      );
    if (mark.volumeMl === before.volumeMl)
      return no(
        'no-volume-passed',
        `Mark ${row}: nothing passed since the mark before it, ${figure(mark.volumeMl)} mL; leave the mark out, or record that the filter is blocked.`,
      );
  }
  if (marks.length < FEWEST_MARKS)
    return no(
      'too-few-marks',
      `${marks.length === 0 ? 'No mark' : marks.length === 1 ? 'One mark' : 'Two marks'} after the start: any law goes through so few; make at least ${FEWEST_MARKS}, better 6 to 10, at even volumes.`,
    );
  if (marks.length > MOST_MARKS)
    return no('too-many-marks', `${marks.length} marks: at most ${MOST_MARKS} are taken; keep every tenth.`);
  return done(marks.map((mark) => ({ timeS: mark.timeS - start, volumeMl: mark.volumeMl })));
}
