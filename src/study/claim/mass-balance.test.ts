import { describe, expect, it } from 'vitest';
import type { Judgement, MassEstimate } from '../../science/counting/index.ts';
import { done, refused } from '../../units/index.ts';
import type { Weighing } from '../records/weighing.ts';
import { balanceOf, lossOf, massShed, type WeighedRun } from './mass-balance.ts';

const weighed = (
  name: string,
  beforeG: number,
  afterG: number,
  uncertaintyG = 0.0001,
  massG = 2,
): WeighedRun => ({
  name,
  massG,
  weighing: { beforeG, afterG, uncertaintyG } as Weighing,
});
const between = (value: number, lower: number, upper: number) => ({ value, lower, upper, confidence: 0.95 });
/** 20 pieces that weigh 200 µg: 10 µg each. */
const mass = { micrograms: between(200, 100, 400), pieces: 20, leftOut: 0, topFive: 0.5 } as MassEstimate;
const judged = (net: ReturnType<typeof between>) => done({ netPerGram: net } as Judgement);

describe('what the balance says was lost', () => {
  // by hand, GUM 5.1.2: 3 mg and 1 mg; two weighings of 0.1 mg a run, two runs: 0.1·√4 mg
  it('is the sum over the runs, with two weighings of each', () => {
    const loss = lossOf([weighed('a', 10.003, 10), weighed('b', 8.001, 8)]);
    expect(loss.value).toBeCloseTo(4000, 6);
    expect(loss.uncertainty).toBeCloseTo(200, 6);
  });
});

describe('what the claim says was shed', () => {
  it('is net × grams × mean mass, its relative widths joined in squares', () => {
    const shed = massShed(between(3, 2, 5), mass, 4);
    expect(shed.value).toBeCloseTo(3 * 4 * 10, 9);
    expect(shed.lower).toBeCloseTo(120 / Math.exp(Math.hypot(Math.log(1.5), Math.log(2))), 9);
    expect(shed.upper).toBeCloseTo(120 * Math.exp(Math.hypot(Math.log(5 / 3), Math.log(2))), 9);
  });

  it('may be nothing where the net may be nothing', () => {
    expect(massShed(between(1, -1, 3), mass, 4).lower).toBe(0);
    expect(massShed(between(-1, -3, 2), mass, 4)).toMatchObject({ value: 0, lower: 0, upper: 2 * 4 * 20 });
  });
});

describe('the alarm', () => {
  const net = between(30, 25, 40);
  const of = (runs: readonly WeighedRun[]) => balanceOf(runs, ['c'], judged(net), done(mass));

  it('goes off where even the least that was shed is more than was lost', () => {
    // shed: 30 × 2 × 10 = 600 µg, at least about 290; lost: 20 ± 28 µg
    const found = of([weighed('a', 10.00002, 10, 0.00001)]);
    expect(found.ok && found.value.found.verdict).toBe('more than was lost');
    expect(found.ok && found.value.notWeighed).toEqual(['c']);
  });

  it('stays still where as much was lost, and where the balance cannot tell', () => {
    const enough = of([weighed('a', 10.005, 10)]);
    expect(enough.ok && enough.value.found.verdict).toBe('within what was lost');
    const coarse = of([weighed('a', 10.001, 10, 0.01)]);
    expect(coarse.ok && coarse.value.found.verdict).toBe('balance cannot tell');
    const gained = of([weighed('a', 10, 10.001, 0.01)]);
    expect(gained.ok && gained.value.found.verdict).toBe('balance cannot tell');
  });

  it('says that nothing was weighed, or why there is no mass, never a nought', () => {
    const none = balanceOf([], ['a'], judged(net), done(mass));
    expect(none.ok ? '' : none.refusal.why).toBe('not-weighed');
    const few = refused({ why: 'too-few-pieces', message: 'too few' });
    const lacking = balanceOf([weighed('a', 10.005, 10)], [], judged(net), few);
    expect(lacking.ok ? '' : lacking.refusal).toMatchObject({ why: 'no-mass', message: 'too few' });
  });
});
