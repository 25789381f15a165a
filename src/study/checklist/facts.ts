/** What the checklist is judged on: counted once from the records, so that each item is one look at a few numbers. */

import type { Filter } from '../records/filter.ts';
import type { Edition, Step } from '../records/procedure.ts';
import type { Run } from '../records/run.ts';
import type { Portion, Specimen } from '../records/specimen.ts';
import type { Study } from '../records/study.ts';

export interface ListedRun {
  readonly run: Run;
  /** As done: with deviations and with what was measured at the bench. */
  readonly steps: readonly Step[];
  readonly filters: readonly Filter[];
  /** Share of its liquid that was looked at; null: not recorded. */
  readonly passed: number | null;
  /** Share of its filters that was searched; null: not looked. */
  readonly examined: number | null;
  readonly count: number | null;
  readonly unmarked: number;
  /** Of a specimen run: whether a control matches it. */
  readonly matched: boolean | null;
}

export interface ChecklistFacts {
  readonly study: Study;
  readonly specimens: readonly Specimen[];
  readonly portions: readonly Portion[];
  readonly editions: readonly Pick<Edition, 'id' | 'number'>[];
  readonly runs: readonly ListedRun[];
  /** Deviations on record, and how many of them say why. */
  readonly deviations: { readonly all: number; readonly reasoned: number };
  /** Whether the plan with its expected figures was made here. */
  readonly planned: boolean;
  /** The question was changed after the first photograph had come in; null: there is none yet. */
  readonly questionChangedLate: boolean | null;
  readonly photos: {
    readonly all: number;
    readonly searched: number;
    readonly withScale: number;
    readonly refused: number;
    /** Not searched either, but of liquid that is kept for later and counts as not looked at. */
    readonly setAside: number;
  };
  readonly optics: { readonly all: number; readonly calibrated: number };
  /** Smallest size that every searched photo could show; null: nothing searched. */
  readonly floorUm: number | null;
  /** Pixels across the smallest counted piece at the coarsest lens setting; null: no setting has its figure. */
  readonly pxAcrossSmallest: number | null;
  /** People who marked. */
  readonly markers: number;
  readonly tests: { readonly pieces: number; readonly kinds: readonly string[] };
  readonly drills: { readonly plastic: number; readonly natural: number };
  readonly confirmation: { readonly drawn: number; readonly tested: number };
  readonly rounds: { readonly sealed: number; readonly readers: number };
  readonly claim: {
    readonly state: string;
    readonly interval: boolean;
    readonly limit: boolean;
    readonly identifiedBy: string;
  };
  readonly safetyAsked: boolean;
  readonly safetyReady: boolean;
}

export const ofKind = (facts: ChecklistFacts, ...kinds: readonly Run['kind'][]): readonly ListedRun[] =>
  facts.runs.filter(({ run }) => kinds.includes(run.kind));
export const specimenRuns = (facts: ChecklistFacts): readonly ListedRun[] => ofKind(facts, 'specimen');
export const hasStep = (runs: readonly ListedRun[], ...kinds: readonly string[]): boolean =>
  runs.some(({ steps }) => steps.some((step) => kinds.includes(step.kind)));
export const stepsOfKind = (runs: readonly ListedRun[], kind: string): readonly Step[] =>
  runs.flatMap(({ steps }) => steps.filter((step) => step.kind === kind));
