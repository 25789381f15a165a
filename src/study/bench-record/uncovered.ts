import type { SheetStep } from './run-sheet.ts';

/** Minutes that a run stood uncovered, added up; what nobody said is counted as steps, never as minutes of nought. */
export interface UncoveredSum {
  readonly minutes: number;
  readonly measuredMin: number;
  readonly plannedMin: number;
  readonly openings: number;
  /** Steps that stand under no word on their minutes. */
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
    if (uncovered.minutes === null) notSaid.push(step.key);
    else if (uncovered.from === 'planned') plannedMin += uncovered.minutes;
    else measuredMin += uncovered.minutes;
  }
  return { minutes: measuredMin + plannedMin, measuredMin, plannedMin, openings, notSaid, open };
}
