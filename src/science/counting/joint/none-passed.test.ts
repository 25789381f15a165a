import { describe, expect, it } from 'vitest';
import { known, productOf } from './knowledge.ts';
import { estimateNetRelease } from './net-release.ts';

/** Twelve on a run and two on a control, of which so many of the tested pieces passed. */
const net = (specimens: number, controls: number) => {
  const outcome = estimateNetRelease({
    specimens: [14, 12, 13, 12].map((count) => ({ count, massG: 50, passed: 1, examined: 1 })),
    controls: [3, 2, 3, 2].map((count) => ({ count, passed: 1, examined: 1 })),
    spikes: [],
    confidence: 0.95,
    confirmation: {
      specimens: { positive: specimens, tested: 9 },
      controls: { positive: controls, tested: 3 },
    },
  });
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value.perGram;
};

describe('where none of the tested pieces passed', () => {
  it('the net is nothing, with an interval that goes on from that of one passed', () => {
    const [none, one] = [net(0, 0), net(1, 0)];
    expect(none.value).toBe(0);
    expect(none.lower).toBeLessThan(0);
    expect(none.upper).toBeGreaterThan(0);
    expect(none.upper).toBeLessThan(one.upper);
    expect(none.lower).toBeLessThan(one.lower);
  });

  it('a control of which one passed still counts against it', () => {
    expect(net(0, 1).value).toBeCloseTo((0 * 12.75 - (1 / 3) * 2.5) / 50, 12);
  });

  it('a product with nothing is nothing', () => {
    const nothing = productOf(known(12), known(0));
    expect(Math.abs(nothing.at[0]!)).toBeLessThan(1e-9);
    expect(Math.abs(nothing.at.at(-1)!)).toBeLessThan(1e-9);
  });
});
