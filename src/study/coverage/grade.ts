import { type Step, TOUCHES } from '../records/procedure.ts';
import { type Cause, kindOf } from '../step-kinds/index.ts';
import { plainWords } from './plain-words.ts';
import type { Tolerances } from './tolerances.ts';

export const GRADES = ['same', 'scaled', 'different', 'unknown'] as const;
export type Grade = (typeof GRADES)[number];

/** One attribute of a step of a run against the same of a control. */
export interface AttributeGrade {
  readonly attribute: string;
  readonly grade: Grade;
  /** Run over control, where the background grows in proportion; 1 otherwise. */
  readonly factor: number;
  readonly run: string;
  readonly control: string;
  /** Where a difference here would let particles come from. */
  readonly cause: Cause;
}

const CAUSE_OF_TOUCH: Readonly<Record<(typeof TOUCHES)[number], Cause>> = {
  vessel: 'vessel',
  tool: 'tool',
  liquid: 'liquid',
  reagentLot: 'reagent',
  place: 'air',
  person: 'person',
  filterLot: 'filter',
  optics: 'photograph',
};

const shown = (value: string | number | null | undefined): string =>
  value === null || value === undefined ? 'not recorded' : String(value);

/** Grades every attribute that either step has. `product` names what a control leaves out on purpose. */
export function gradeStep(
  run: Step,
  control: Step,
  product: ReadonlySet<string>,
  tolerances: Tolerances,
): readonly AttributeGrade[] {
  return [
    ...gradeTouches(run, control, product),
    ...gradeQuantities(run, control, tolerances),
    ...gradeExposure(run, control, tolerances),
  ];
}

function gradeTouches(run: Step, control: Step, product: ReadonlySet<string>): AttributeGrade[] {
  const grades: AttributeGrade[] = [];
  for (const attribute of TOUCHES) {
    const [x, y] = [run.touches[attribute], control.touches[attribute]];
    if (x === null && y === null) continue;
    const byDesign = x !== null && product.has(plainWords(x));
    const grade: Grade = byDesign
      ? 'same'
      : x === null || y === null
        ? 'unknown'
        : plainWords(x) === plainWords(y)
          ? 'same'
          : 'different';
    grades.push({
      attribute,
      grade,
      factor: 1,
      run: shown(x),
      control: shown(y),
      cause: CAUSE_OF_TOUCH[attribute],
    });
  }
  return grades;
}

function gradeQuantities(run: Step, control: Step, { scaledUpTo }: Tolerances): AttributeGrade[] {
  const kind = kindOf(run);
  const grades: AttributeGrade[] = [];
  for (const { name, tolerance, scales } of kind?.quantities ?? []) {
    const [x, y] = [run.quantities[name], control.quantities[name]];
    if (x === undefined && y === undefined) continue;
    const cause = kind?.brings[0] ?? 'act';
    if (x === undefined || y === undefined) {
      grades.push({ attribute: name, grade: 'unknown', factor: 1, run: shown(x), control: shown(y), cause });
      continue;
    }
    const same = Math.abs(x - y) <= tolerance * Math.max(Math.abs(x), Math.abs(y));
    const factor = y === 0 ? Number.POSITIVE_INFINITY : x / y;
    const reach = factor <= scaledUpTo && factor >= 1 / scaledUpTo;
    const grade: Grade = same ? 'same' : scales && reach ? 'scaled' : 'different';
    grades.push({
      attribute: name,
      grade,
      factor: grade === 'scaled' ? factor : 1,
      run: shown(x),
      control: shown(y),
      cause,
    });
  }
  return grades;
}

function gradeExposure(run: Step, control: Step, tolerances: Tolerances): AttributeGrade[] {
  const grades: AttributeGrade[] = [];
  const pairs = [
    ['minutesUncovered', run.minutesUncovered, control.minutesUncovered, 'air'],
    ['openings', run.openings, control.openings, 'vessel'],
  ] as const;
  for (const [attribute, x, y, cause] of pairs) {
    if (x === null && y === null) continue;
    if (x === null || y === null) {
      grades.push({ attribute, grade: 'unknown', factor: 1, run: shown(x), control: shown(y), cause });
      continue;
    }
    const apart = Math.abs(x - y);
    const same =
      attribute === 'openings'
        ? apart === 0
        : apart <= Math.max(tolerances.uncoveredMinutes, tolerances.uncoveredShare * Math.max(x, y));
    const factor = y === 0 ? Number.POSITIVE_INFINITY : x / y;
    // A control that stood open longer holds more background than the run: it may be scaled down.
    const reach = factor <= tolerances.scaledUpTo && factor >= 1 / tolerances.scaledUpTo;
    const grade: Grade = same ? 'same' : reach ? 'scaled' : 'different';
    grades.push({
      attribute,
      grade,
      factor: grade === 'scaled' ? factor : 1,
      run: shown(x),
      control: shown(y),
      cause,
    });
  }
  return grades;
}
