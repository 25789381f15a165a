import type { Edition, Step } from '../records/procedure.ts';
import type { Deviation, Run } from '../records/run.ts';

/** What a run really did: its edition's steps with its deviations applied, in the order in which they were written down. */
export function stepsAsDone(edition: Edition, run: Run, deviations: readonly Deviation[]): readonly Step[] {
  let steps: readonly Step[] = edition.steps;
  for (const deviation of deviations) {
    if (!deviation.runs.includes(run.id)) continue;
    const { kind, stepKey, asDone } = deviation;
    const at = steps.findIndex((step) => step.key === stepKey);
    if (kind === 'left-out') steps = steps.filter((step) => step.key !== stepKey);
    else if (asDone && kind === 'changed') {
      steps = steps.map((step) => (step.key === stepKey ? { ...asDone, key: step.key } : step));
    } else if (asDone) {
      // Put in after the step named; at the start where none is named or it was itself left out.
      const taken =
        edition.steps.some((step) => step.key === asDone.key) ||
        steps.some((step) => step.key === asDone.key);
      const key = taken ? `${asDone.key}+${deviation.id.slice(-4)}` : asDone.key;
      steps = [...steps.slice(0, at + 1), { ...asDone, key }, ...steps.slice(at + 1)];
    }
  }
  return steps;
}
