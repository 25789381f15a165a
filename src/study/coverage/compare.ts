/** A run's steps against a control's: what the control repeats, and what it does otherwise. */
import type { Step } from '../records/procedure.ts';
import { align } from './align.ts';
import { type AttributeGrade, type Grade, gradeStep } from './grade.ts';
import { commute, mergedSteps } from './merged-steps.ts';
import { plainWords } from './plain-words.ts';
import { type Tolerances, USUAL_TOLERANCES } from './tolerances.ts';

export interface StepCompared {
  readonly step: Step;
  /** Null: the control has no such step. */
  readonly repeatedBy: Step | null;
  readonly attributes: readonly AttributeGrade[];
  /** `missing`, or the gravest grade of its attributes. */
  readonly grade: Grade | 'missing';
}

export interface Comparison {
  readonly steps: readonly StepCompared[];
  /** Steps that only the control has. */
  readonly extra: readonly Step[];
  /** Pairs of the run's steps that the control did in the other order, where the order matters. */
  readonly swapped: readonly (readonly [Step, Step])[];
  /** True when every step is the same or can be scaled, nothing is extra and the order holds. */
  readonly matches: boolean;
}

const GRAVITY: readonly Grade[] = ['same', 'scaled', 'unknown', 'different'];
const gravest = (grades: readonly AttributeGrade[]): Grade =>
  grades.reduce<Grade>(
    (worst, { grade }) => (GRAVITY.indexOf(grade) > GRAVITY.indexOf(worst) ? grade : worst),
    'same',
  );

/** `product`: names of the product under test; where a run's step touches it, a control leaves it out on purpose. */
export function compareSteps(
  run: readonly Step[],
  control: readonly Step[],
  product: readonly string[] = [],
  tolerances: Tolerances = USUAL_TOLERANCES,
): Comparison {
  const ours = mergedSteps(run);
  const theirs = mergedSteps(control);
  const names = new Set([...product, 'product', 'specimen'].map(plainWords));
  const { pairs, extra } = align(ours, theirs);
  const of = new Map(pairs);
  const steps = ours.map((step, at): StepCompared => {
    const other = of.get(at);
    if (other === undefined) return { step, repeatedBy: null, attributes: [], grade: 'missing' };
    const attributes = gradeStep(step, theirs[other]!, names, tolerances);
    return { step, repeatedBy: theirs[other]!, attributes, grade: gravest(attributes) };
  });
  const swapped: (readonly [Step, Step])[] = [];
  for (const [i, [firstRun, firstControl]] of pairs.entries()) {
    for (const [laterRun, laterControl] of pairs.slice(i + 1)) {
      const [a, b] = [ours[firstRun]!, ours[laterRun]!];
      if (laterControl < firstControl && !commute(a, b)) swapped.push([a, b]);
    }
  }
  return {
    steps,
    extra: extra.map((at) => theirs[at]!),
    swapped,
    matches:
      extra.length === 0 &&
      swapped.length === 0 &&
      steps.every(({ grade }) => grade === 'same' || grade === 'scaled'),
  };
}

/** Every difference as one short phrase, for people and for tests. */
export function differences(compared: Comparison): readonly string[] {
  return [
    ...compared.steps.flatMap(({ step, grade, attributes }) =>
      grade === 'missing'
        ? [`${step.kind} “${step.key}” is missing`]
        : attributes
            .filter((attribute) => attribute.grade !== 'same')
            .map(
              (a) => `${step.kind} “${step.key}”: ${a.attribute} ${a.grade}, ${a.run} against ${a.control}`,
            ),
    ),
    ...compared.extra.map((step) => `${step.kind} “${step.key}” is extra`),
    ...compared.swapped.map(([a, b]) => `“${a.key}” and “${b.key}” are in the other order`),
  ];
}
