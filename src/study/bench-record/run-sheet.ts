import { stepsAsDone } from '../coverage/steps-as-done.ts';
import type { Edition, Step } from '../records/procedure.ts';
import type { Deviation, Run } from '../records/run.ts';
import { soundTaps } from './sound-taps.ts';
import { type BenchTap, ofKind, standingTaps } from './standing-taps.ts';
import { asMeasured, recordOf, type StepRecord } from './step-record.ts';

export type RunState = 'planned' | 'under-way' | 'done';

/** One line of the sheet: a step to carry out, or one that was left out. */
export interface SheetStep extends StepRecord {
  readonly otherwise: 'as-planned' | 'changed' | 'left-out' | 'put-in';
  /** What the edition says; null for a step put in. */
  readonly planned: Step | null;
}

export interface RunSheet {
  readonly state: RunState;
  readonly begunAt: string | null;
  readonly endedAt: string | null;
  readonly steps: readonly SheetStep[];
  readonly clogged: boolean;
  readonly notes: readonly string[];
  readonly problems: readonly string[];
}

type OfEdition = Pick<Edition, 'steps'>;
type OfRun = Pick<Run, 'id'>;

/** The run as the bench shows it: the edition's steps, what was done otherwise, and what the taps say. */
export function runSheet(
  edition: OfEdition,
  run: OfRun,
  deviations: readonly Deviation[],
  taps: readonly BenchTap[],
): RunSheet {
  const mine = deviations.filter((deviation) => deviation.runs.includes(run.id as Run['id']));
  const done = stepsAsDone(edition as Edition, run as Run, mine);
  const changed = new Set(mine.filter((d) => d.kind === 'changed').map((d) => d.stepKey));
  const { sound: standing, problems } = soundTaps(standingTaps(taps), [
    ...done,
    ...edition.steps.filter(({ key }) => !done.some((step) => step.key === key)),
  ]);
  const planned = new Map(edition.steps.map((step) => [step.key, step]));
  const here = new Set(done.map((step) => step.key));
  const steps: SheetStep[] = done.map((step) => {
    const before = planned.get(step.key) ?? null;
    return {
      ...recordOf(step, standing),
      planned: before,
      otherwise: before === null ? 'put-in' : changed.has(step.key) ? 'changed' : 'as-planned',
    };
  });
  // A step left out stays in its place of the edition, so that it can be seen and taken up again.
  for (const [at, step] of edition.steps.entries()) {
    if (here.has(step.key)) continue;
    const before = edition.steps.slice(0, at).reverse();
    const after = before.find((other) => steps.some((line) => line.step.key === other.key));
    const place = after === undefined ? 0 : steps.findIndex((line) => line.step.key === after.key) + 1;
    steps.splice(place, 0, { ...recordOf(step, standing), planned: step, otherwise: 'left-out' });
  }
  const begun = ofKind(standing, 'begin').at(-1) ?? standing[0] ?? null;
  const ended = ofKind(standing, 'end').at(-1) ?? null;
  return {
    state: ended ? 'done' : begun ? 'under-way' : 'planned',
    begunAt: begun?.at ?? null,
    endedAt: ended?.at ?? null,
    steps,
    clogged: ofKind(standing, 'filtered').some((tap) => tap.deed.clogged),
    notes: ofKind(standing, 'note')
      .filter((tap) => tap.deed.step === null)
      .map((tap) => tap.deed.text),
    problems: [...steps.flatMap((line) => line.problems), ...problems, ...declined(taps)],
  };
}

/** Taps that could not be done; they are kept as typed. */
const declined = (taps: readonly BenchTap[]): readonly string[] =>
  taps.flatMap((tap) => (tap.refusal === null ? [] : [tap.refusal.message]));

/** The steps as they were really done and measured, for the comparison with controls. */
export const stepsMeasured = (
  edition: OfEdition,
  run: OfRun,
  deviations: readonly Deviation[],
  taps: readonly BenchTap[],
): readonly Step[] =>
  runSheet(edition, run, deviations, taps)
    .steps.filter((line) => line.otherwise !== 'left-out')
    .map(asMeasured);
