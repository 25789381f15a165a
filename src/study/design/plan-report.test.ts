import { describe, expect, it } from 'vitest';
import { type PlanAsked, type PlanReport, planReport } from './index.ts';

const planned = (asked: PlanAsked): PlanReport => {
  const made = planReport(asked);
  if (!made.ok) throw new Error(made.refusal.message);
  return made.value;
};

describe('a plan', () => {
  it('stands on nothing but what it says it assumed', () => {
    const plan = planned({});
    expect(plan.assumed.every((a) => !a.given && a.because !== '')).toBe(true);
    expect(plan.designs.length).toBeGreaterThan(3);
    expect(plan.designs.every((d) => d.chance_above === null && d.limit_per_gram! > 0)).toBe(true);
    expect(plan.designs[plan.best!]).toMatchObject({ specimen_runs: 6, controls: 6 });
    expect(JSON.stringify(plan)).not.toMatch(/NaN|Infinity/);
  });

  it('spends no more hours than there are, and puts the best first', () => {
    const plan = planned({ hours_available: 60, release_per_gram: 25 });
    expect(plan.best).toBe(0);
    for (const d of plan.designs) {
      expect(d.hours).toBeLessThanOrEqual(60);
      expect(d.chance_amount!).toBeLessThanOrEqual(plan.designs[0]!.chance_amount!);
      expect(d.smallest_95_per_gram!).toBeGreaterThan(d.smallest_80_per_gram!);
    }
    expect(plan.sentence).toMatch(/Best spent on .* of 60 h/);
    expect(plan.if_otherwise).toHaveLength(3);
    expect(plan.curve[0]!.chance_above).toBeLessThan(0.12);
    expect(plan.curve.at(-1)!.chance_above).toBeGreaterThan(0.9);
  });

  it('says so where the hours are too few', () => {
    const plan = planned({ hours_available: 10 });
    expect(plan).toMatchObject({ designs: [], best: null, curve: [] });
    expect(plan.sentence).toBe(
      '10 h are too few: 4 specimen runs and 4 controls with 2 spiked runs take 28 h.',
    );
  });

  it('plans backwards from what there is: two blanks more move the limit', () => {
    const plan = planned({ specimen_runs: 6, controls: 4, spiked_runs: 3 });
    const [controls] = plan.have!.more;
    expect(controls).toMatchObject({ adds: 'two controls', controls: 6, hours: 5 });
    expect(controls!.smallest_80_per_gram!).toBeLessThan(plan.have!.smallest_80_per_gram!);
    expect(plan.sentence).toContain('the best claim within reach is “fewer than');
    expect(plan.next[0]).toMatch(/^Two controls more \(5\.0 h\): /);
  });

  it('claims no limit where a study may claim nothing, and says what is missing', () => {
    const plan = planned({ specimen_runs: 2, controls: 1 });
    expect(plan.have).toMatchObject({ may_claim: false, limit_per_gram: null, smallest_80_per_gram: null });
    expect(plan.sentence).toContain('can claim nothing yet');
  });

  it('states no amount below 60 % recovery, whatever the runs', () => {
    const plan = planned({ recovery: 0.5, release_per_gram: 500 });
    expect(plan.designs.every((d) => d.chance_amount === 0 && d.chance_above! > 0.9)).toBe(true);
    expect(plan.cautions.join(' ')).toContain('Below 60 % recovery');
  });

  it('buys tests of pieces where their time is given', () => {
    const plan = planned({ hours_available: 70, release_per_gram: 40, hours_per_test: 0.1 });
    expect(plan.designs[0]!.tested_pieces).toBeGreaterThan(0);
    expect(plan.designs[0]!.hours).toBeLessThanOrEqual(70);
  });

  it.each<[PlanAsked, RegExp]>([
    [{ background_per_run: -1 }, /^Background: given -1 .*from 0/],
    [{ release_per_gram: 0 }, /^Release: given 0 /],
    [{ passed: 0 }, /^Liquid that passes the filter: given 0 .*above 0/],
    [{ examined: 1.2 }, /^Filter that is examined: given 1\.2/],
    [{ recovery: 0 }, /^Recovery: given 0/],
    [{ portion_g: 0 }, /^Portion: given 0/],
    [{ scatter: 9 }, /^Scatter between runs: given 9/],
    [{ hours_available: 0 }, /^Hours there are: given 0/],
    [{ hours_per_control: 0 }, /^Work on a control: given 0/],
    [{ controls: 2.5 }, /^Controls: given 2\.5 .*whole number/],
    [{ pieces_per_spike: 0 }, /^Known pieces in a spiked run: given 0/],
    [{ confidence: 1 }, /^Confidence: given 1/],
    [{ background_per_run: Number.NaN }, /^Background: given NaN/],
  ])('refuses %j by name', (asked, says) => {
    const made = planReport(asked);
    expect(made.ok ? '' : made.refusal.message).toMatch(says);
    expect(made.ok ? '' : made.refusal.why).toBe('out-of-range');
  });
});
