/** How far a run is, in one word that never mixes the three zeros. */
import type { BenchRunJson, RunJson } from '../../api/index.ts';

export const RUN_STATES = ['planned', 'under-way', 'clogged', 'done', 'looked-at'] as const;
export type RunStateHere = (typeof RUN_STATES)[number];

export const RUN_STATE_WORDS: { readonly [S in RunStateHere]: string } = {
  planned: 'planned',
  'under-way': 'under way',
  clogged: 'filter clogged',
  done: 'done, not looked at',
  'looked-at': 'looked at',
};

/** Looked at stands above all: its count is known. A clogged run that was looked at says so beside its count. */
export function runState(run: RunJson, bench: BenchRunJson | undefined): RunStateHere {
  if (run.count.state === 'counted') return 'looked-at';
  if (bench?.clogged) return 'clogged';
  if (bench?.state === 'done') return 'done';
  // A run with a filter and without taps was done before anybody tapped.
  if (bench?.state === 'under-way') return 'under-way';
  return run.filters.length > 0 ? 'done' : 'planned';
}

export const COVERAGE_WORDS: { readonly [G in NonNullable<BenchRunJson['coverage']>['grade']]: string } = {
  same: 'controls did the same',
  scaled: 'controls did the same, scaled',
  unknown: 'not all is recorded of its controls',
  different: 'done otherwise than its controls',
  missing: 'a step that no control has',
};
