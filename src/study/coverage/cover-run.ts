/** Which controls repeat each step of a run, which explanations no control closes, and the cheapest that would. */
import type { Step } from '../records/procedure.ts';
import { BACKGROUND_KINDS, type ControlKind, type RunId } from '../records/run.ts';
import { type Cause, kindOf } from '../step-kinds/index.ts';
import { attributeWords } from './attribute-words.ts';
import { closingControl, controlCalled, leftOpen } from './closing-control.ts';
import { type Comparison, compareSteps } from './compare.ts';
import type { Grade } from './grade.ts';
import { mergedSteps } from './merged-steps.ts';
import { backgroundOf, type ControlCompared, oneMoreLike, type RunBackground } from './serving.ts';
import { type Tolerances, USUAL_TOLERANCES } from './tolerances.ts';

export interface ControlSteps {
  /** Control runs that did just this, one at least. */
  readonly runs: readonly RunId[];
  readonly name: string;
  readonly kind: ControlKind;
  readonly steps: readonly Step[];
}

/** An explanation that stays alive: something of the run that no control repeats. */
export interface Gap {
  readonly step: Step;
  /** Null: the whole step. */
  readonly attribute: string | null;
  readonly grade: 'missing' | 'different' | 'unknown';
  readonly cause: Cause;
  readonly leavesOpen: string;
  /** What was done in the run; the closing control has to do it too. */
  readonly asDone: string;
  readonly closedBy: ControlKind;
}

export interface StepCovered {
  readonly step: Step;
  /** Names of the controls that repeat it, wholly or scaled. */
  readonly coveredBy: readonly string[];
  readonly grade: Grade | 'missing';
}

export interface Covered {
  readonly steps: readonly StepCovered[];
  readonly gaps: readonly Gap[];
  /** Every control step by step, for the woven band. */
  readonly controls: readonly ControlCompared[];
  /** Which of them may serve as background of the run. */
  readonly background: RunBackground;
  /** Controls that repeat every step, in order, with nothing beside. */
  readonly matching: readonly string[];
}

const BEST: readonly (Grade | 'missing')[] = ['same', 'scaled', 'unknown', 'different', 'missing'];
const better = (a: Grade | 'missing', b: Grade | 'missing'): boolean => BEST.indexOf(a) < BEST.indexOf(b);

/**
 * A gap is closed by any control that repeats that one thing: a reagent blank with the same bottle closes the bottle,
 * though it repeats nothing else. With no controls at all every step is a gap.
 */
export function coverRun(
  run: readonly Step[],
  controls: readonly ControlSteps[],
  product: readonly string[],
  tolerances: Tolerances = USUAL_TOLERANCES,
): Covered {
  const compared = controls.map((control) => ({
    control,
    comparison: compareSteps(run, control.steps, product, tolerances),
  }));
  const ours = mergedSteps(run);
  const steps = ours.map((step, at): StepCovered => {
    const grades = compared.map(({ comparison }) => comparison.steps[at]!.grade);
    return {
      step,
      coveredBy: compared
        .filter((_, index) => grades[index] === 'same' || grades[index] === 'scaled')
        .map(({ control }) => control.name),
      grade: grades.reduce<Grade | 'missing'>((best, next) => (better(next, best) ? next : best), 'missing'),
    };
  });
  const comparisons = compared.map(({ comparison }) => comparison);
  const judged = compared.map(({ control: { runs, name, kind }, comparison }) => ({
    runs,
    name,
    kind,
    comparison,
  }));
  return {
    steps,
    controls: judged,
    background: backgroundOf(judged, BACKGROUND_KINDS),
    gaps: ours.flatMap((step, at) => gapsOf(step, at, comparisons)),
    matching: compared.filter(({ comparison }) => comparison.matches).map(({ control }) => control.name),
  };
}

function gapsOf(step: Step, at: number, comparisons: readonly Comparison[]): Gap[] {
  const gap = (attribute: string | null, grade: Gap['grade'], cause: Cause, asDone: string): Gap => ({
    step,
    attribute,
    grade,
    cause,
    leavesOpen: leftOpen(cause),
    asDone,
    closedBy: closingControl(cause),
  });
  const repeats = comparisons.map((comparison) => comparison.steps[at]!).filter((s) => s.repeatedBy !== null);
  if (repeats.length === 0) {
    const says = kindOf(step)?.says ?? step.kind;
    return (kindOf(step)?.brings ?? []).map((cause) => gap(null, 'missing', cause, says));
  }
  const attributes = new Map<string, { best: Grade; cause: Cause; asDone: string }>();
  for (const { attributes: graded } of repeats) {
    for (const { attribute, grade, cause, run: asDone } of graded) {
      const there = attributes.get(attribute);
      if (!there || better(grade, there.best)) attributes.set(attribute, { best: grade, cause, asDone });
    }
  }
  return [...attributes].flatMap(([attribute, { best, cause, asDone }]) =>
    best === 'different' || best === 'unknown' ? [gap(attribute, best, cause, asDone)] : [],
  );
}

/**
 * A gap in one sentence, with what would close it. Where nothing serves the run, a control that closes the one gap (a reagent
 * blank) does not bring the run back into the amount: the sentence says what does.
 */
export function gapSentence(
  run: string,
  { step, attribute, grade, leavesOpen, asDone, closedBy }: Gap,
  { nearest }: Pick<RunBackground, 'nearest'>,
): string {
  const what =
    grade === 'missing'
      ? `no control has the step “${step.key}”`
      : grade === 'unknown'
        ? `whether a control repeats ${attributeWords(attribute ?? '', null)} of “${step.key}” is not recorded`
        : `no control repeats ${attributeWords(attribute ?? '', asDone)} of “${step.key}”`;
  const told = `Run ${run}: ${what}, so ${leavesOpen} may explain its particles; ${controlCalled(closedBy)} with the same would`;
  return nearest === null
    ? `${told} close this.`
    : `${told} tell ${leavesOpen} apart, and the run counts again only with ${oneMoreLike(nearest)}.`;
}
