import { type Step, TOUCHES, type Touches } from '../records/procedure.ts';
import { compareSteps } from './compare.ts';
import { changesNeeded } from './serving.ts';
import type { Tolerances } from './tolerances.ts';

type Writable = { -readonly [F in keyof Step]: Step[F] };

/** The control's step with what differs done as in the run. */
function asInRun(control: Step, run: Step, attributes: readonly string[]): Step {
  const step: Writable = { ...control };
  for (const attribute of attributes) {
    if ((TOUCHES as readonly string[]).includes(attribute)) {
      const touch = attribute as keyof Touches;
      step.touches = { ...step.touches, [touch]: run.touches[touch] };
    } else if (attribute === 'minutesUncovered') step.minutesUncovered = run.minutesUncovered;
    else if (attribute === 'openings') step.openings = run.openings;
    else {
      const amount = run.quantities[attribute];
      if (amount !== undefined) step.quantities = { ...step.quantities, [attribute]: amount };
    }
  }
  return step;
}

/**
 * Steps of one more control like the given one that would serve the run: what differs is done as in the run. Null where
 * that does not suffice (a step is missing or too many, the order is another, or a step was joined from parts): a person has to write it.
 */
export function mendingSteps(
  run: readonly Step[],
  control: readonly Step[],
  product: readonly string[],
  tolerances?: Tolerances,
): readonly Step[] | null {
  const differing = compareSteps(run, control, product, tolerances).steps.flatMap((compared) => {
    const { step, repeatedBy, attributes } = compared;
    const names = attributes.filter(({ grade }) => grade === 'different').map(({ attribute }) => attribute);
    return repeatedBy && names.length > 0 ? [{ key: repeatedBy.key, step, names }] : [];
  });
  const made = control.map((step) => {
    const change = differing.find(({ key }) => key === step.key);
    return change ? asInRun(step, change.step, change.names) : step;
  });
  return changesNeeded(compareSteps(run, made, product, tolerances)).length === 0 ? made : null;
}
