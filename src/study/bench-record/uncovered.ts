import type { Step } from '../records/procedure.ts';
import { kindOf } from '../step-kinds/index.ts';
import type { SheetStep } from './run-sheet.ts';

/** Minutes that a run stood uncovered, added up; what nobody said is counted as steps, never as minutes of nought. */
export interface UncoveredSum {
  readonly minutes: number;
  readonly measuredMin: number;
  readonly plannedMin: number;
  readonly openings: number;
  /** Names of the steps on whose minutes nothing is recorded; where several are of one kind, with their key. */
  readonly notSaid: readonly string[];
  /** Steps that stand open now, with the moment they were opened. */
  readonly open: readonly { readonly step: string; readonly since: string }[];
}

export function uncoveredSum(steps: readonly SheetStep[]): UncoveredSum {
  let measuredMin = 0;
  let plannedMin = 0;
  let openings = 0;
  const notSaid: string[] = [];
  const open: { step: string; since: string }[] = [];
  for (const { step, uncovered, otherwise } of steps) {
    if (otherwise === 'left-out') continue;
    if (uncovered.openSince !== null) open.push({ step: step.key, since: uncovered.openSince });
    openings += uncovered.openings ?? 0;
    if (uncovered.minutes === null) notSaid.push(calledIn(steps, step));
    else if (uncovered.from === 'planned') plannedMin += uncovered.minutes;
    else measuredMin += uncovered.minutes;
  }
  return { minutes: measuredMin + plannedMin, measuredMin, plannedMin, openings, notSaid, open };
}

function calledIn(steps: readonly SheetStep[], step: Step): string {
  const says = (kindOf(step)?.says ?? step.kind).toLowerCase();
  return steps.filter((one) => one.step.kind === step.kind).length > 1 ? `${says} (“${step.key}”)` : says;
}
