import { describe, expect, it } from 'vitest';
import type { BenchRunJson, RunJson } from '../../api/index.ts';
import { runState } from './run-state.ts';

const run = (more: Partial<RunJson> = {}): RunJson =>
  ({ count: { state: 'not-looked' }, filters: [], ...more }) as RunJson;
const bench = (more: Partial<BenchRunJson> = {}): BenchRunJson =>
  ({ state: 'planned', clogged: false, ...more }) as BenchRunJson;

describe('the state of a run', () => {
  it('goes from planned to looked at', () => {
    expect(runState(run(), undefined)).toBe('planned');
    expect(runState(run(), bench({ state: 'under-way' }))).toBe('under-way');
    expect(runState(run(), bench({ state: 'done' }))).toBe('done');
    expect(runState(run({ filters: ['f'] }), bench({ state: 'done', clogged: true }))).toBe('clogged');
    expect(
      runState(run({ count: { state: 'counted', count: 0, undecided: 0 } }), bench({ clogged: true })),
    ).toBe('looked-at');
  });
  it('takes a run with a filter and no taps for done before taps were kept', () => {
    expect(runState(run({ filters: ['f'] }), bench())).toBe('done');
  });
});
