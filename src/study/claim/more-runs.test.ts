import { describe, expect, it } from 'vitest';
import { type Judgement, judge } from '../../science/counting/index.ts';
import { claimFrom } from './index.ts';
import { limitWithMoreRuns } from './more-runs.ts';

const run = (count: number) => ({ name: 'a', kind: 'act control', count, massG: 2, passed: 1, examined: 1 });
const judgedOf = (portions: number[], controls: number[]): Judgement => {
  const judged = judge({
    portions: portions.map(run),
    controls: controls.map(run),
    recovery: { found: 45, added: 50 },
    drill: null,
    confidence: 0.95,
  });
  if (!judged.ok) throw new Error(judged.refusal.message);
  return judged.value;
};

describe('what two more runs would make of the limit', () => {
  const nothing = judgedOf([4, 2, 5, 3, 4], [3, 5, 2, 4, 6]);

  it('is less than the limit of now, and names the run that gains more', () => {
    const [step] = limitWithMoreRuns(nothing);
    const [from, to] = /from ([\d.]+) to about ([\d.]+)/.exec(step!.moves)!.slice(1).map(Number);
    expect(from).toBeCloseTo(nothing.upperLimitPerGram, 1);
    expect(to).toBeLessThan(from!);
    expect(step!.message).toMatch(/^Make 2 more (controls|specimen runs)\.$/);
  });

  it('stands among what would move a claim of nothing detected', () => {
    const claim = claimFrom({ ok: true, value: nothing });
    expect(claim.state).toBe('not-detected');
    expect(claim.next.map((step) => step.why)).toContain('more-runs-for-limit');
  });

  it('says nothing where the runs are too few for the model', () => {
    expect(limitWithMoreRuns(judgedOf([1, 0], [2, 1]))).toEqual([]);
  });
});
