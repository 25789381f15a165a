import { describe, expect, it } from 'vitest';
import { conditionalTest } from '../index.ts';
import type { NetInput } from './net-input.ts';
import { estimateNetRelease, type NetRelease } from './net-release.ts';

const specimens = (counts: readonly number[], massG = 1) =>
  counts.map((count) => ({ count, passed: 1, examined: 1, massG }));
const controls = (counts: readonly number[]) => counts.map((count) => ({ count, passed: 1, examined: 1 }));
const base: NetInput = {
  specimens: specimens([14, 11, 16, 9, 13, 12]),
  controls: controls([3, 5, 2, 4, 3, 6]),
  spikes: [],
  confidence: 0.95,
};
function answer(input: NetInput): NetRelease {
  const outcome = estimateNetRelease(input);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}
const why = (input: NetInput): string => {
  const outcome = estimateNetRelease(input);
  return outcome.ok ? 'answered' : outcome.refusal.why;
};

describe('net release by the joint model', () => {
  it('estimates the plain difference, never clipped, inside its interval', () => {
    const net = answer(base);
    expect(net.perGram.value).toBeCloseTo(75 / 6 - 23 / 6, 12);
    expect(net.perGram.lower).toBeGreaterThan(0);
    expect(net.decision).toMatchObject({ above: true, by: 'labels' });
    expect(net.decision.p).toBeCloseTo(1 / 924, 12);
    const turned = answer({
      ...base,
      specimens: specimens([3, 5, 2, 4, 3, 6]),
      controls: controls([14, 11, 16, 9, 13, 12]),
    });
    expect(turned.perGram.value).toBeCloseTo(-52 / 6, 12);
    expect(turned.decision.above).toBe(false);
    expect(turned.upperLimitPerGram).toBeGreaterThan(0);
    expect(turned.upperLimitHeld).toBe(true);
  });

  it('is the melded exact answer when the history shows no scatter', () => {
    const still = Array.from({ length: 60 }, () => controls([20, 20, 20, 20, 20, 20]));
    const net = answer({
      ...base,
      history: still,
      specimens: specimens([3, 2, 3, 2]),
      controls: controls([1, 1, 0, 1]),
    });
    // the specimens' scatter is not in the history, so the model's p is above the Poisson one, but near it
    expect(net.decision.modelP).toBeGreaterThan(conditionalTest(10, 4, 3, 4) - 0.002);
    expect(net.decision.modelP).toBeLessThan(0.12);
  });

  it('scales with mass, pieces, fraction and recovery', () => {
    const heavy = answer({
      ...base,
      specimens: specimens([14, 11, 16, 9, 13, 12], 2).map((s) => ({ ...s, pieces: 4 })),
    });
    const net = answer(base);
    expect(heavy.perGram.upper).toBeCloseTo(net.perGram.upper / 2, 8);
    expect(heavy.perAct.upper).toBeCloseTo(net.perAct.upper, 8);
    expect(heavy.perPiece?.value).toBeCloseTo(net.perGram.value / 4, 10);
    expect(net.perPiece).toBeNull();
    const half = answer({
      ...base,
      specimens: base.specimens.map((s) => ({ ...s, passed: 0.5 })),
      controls: base.controls.map((c) => ({ ...c, examined: 0.5 })),
    });
    expect(half.perGram.value).toBeCloseTo(2 * net.perGram.value, 10);
    const spiked = answer({ ...base, spikes: [45, 47, 43].map((found) => ({ found, added: 60 })) });
    expect(spiked.perGram.value).toBeCloseTo(net.perGram.value / 0.75, 10);
    expect(spiked.perGram.upper).toBeGreaterThan(net.perGram.upper / 0.75);
    expect(spiked.recovery?.value).toBe(0.75);
  });

  it('uses unequal portions by what they weigh', () => {
    const masses = [0.5, 1.5, 0.5, 1.5, 0.5, 1.5];
    const counts = [9, 19, 8, 20, 10, 18];
    const net = answer({
      ...base,
      specimens: counts.map((count, i) => ({ count, passed: 1, examined: 1, massG: masses[i]! })),
    });
    expect(net.perGram.value).toBeCloseTo(84 / 6 - 23 / 6, 10);
    const alike = answer({ ...base, specimens: specimens(counts) });
    // counts that follow the mass are less scattered than they look
    expect(net.scatter.specimens.value).toBeLessThan(alike.scatter.specimens.value);
    expect(net.perGram.upper - net.perGram.lower).toBeLessThan(alike.perGram.upper - alike.perGram.lower);
  });

  it('gives an upper limit when nothing was found, above the Poisson one', () => {
    const none = answer({
      ...base,
      specimens: specimens([0, 0, 0, 0, 0, 0]),
      controls: controls([0, 0, 0, 0, 0, 0]),
    });
    expect(none.perGram.value).toBe(0);
    expect(none.upperLimitPerGram * 6).toBeGreaterThan(2.995732);
    expect(none.upperLimitPerGram * 6).toBeLessThan(6);
    expect(none.decision.above).toBe(false);
    expect(none.decision.p).toBe(1);
    expect(none.perGram.lower).toBeLessThan(0);
  });

  it('lets the model decide where fractions are far apart', () => {
    const net = answer({
      ...base,
      controls: controls([0, 1, 0, 0, 1, 0]).map((c) => ({ ...c, examined: 0.2 })),
    });
    expect(net.decision.by).toBe('model');
    expect(net.decision.p).toBe(net.decision.modelP);
  });

  it('takes the share of true pieces from tested candidates, and the test’s errors', () => {
    const confirmation = { specimens: { positive: 20, tested: 40 }, controls: { positive: 10, tested: 20 } };
    const halved = answer({ ...base, confirmation });
    expect(halved.perGram.value).toBeCloseTo(answer(base).perGram.value / 2, 10);
    expect(halved.decision.by).toBe('model');
    const drilled = answer({
      ...base,
      confirmation,
      drill: { truePositive: [45, 50], falsePositive: [5, 50] },
    });
    // (0.5 − 0.1) / (0.9 − 0.1) = 0.5 on both sides
    expect(drilled.perGram.value).toBeCloseTo(halved.perGram.value, 10);
    expect(drilled.perGram.upper - drilled.perGram.lower).toBeGreaterThan(
      halved.perGram.upper - halved.perGram.lower,
    );
    // many more natural specks in the specimens than in controls are not a release
    const specks = answer({
      ...base,
      specimens: specimens([40, 45, 38, 50, 42, 41]),
      confirmation: { specimens: { positive: 3, tested: 40 }, controls: { positive: 16, tested: 20 } },
    });
    expect(specks.decision.above).toBe(false);
    expect(specks.decision.labels.p).toBeLessThan(0.01);
  });

  it('narrows with a quiet history and names what to improve', () => {
    const quiet = Array.from({ length: 5 }, () => base.controls);
    const with_ = answer({ ...base, history: quiet });
    const without = answer(base);
    expect(with_.perGram.upper - with_.perGram.lower).toBeLessThan(
      without.perGram.upper - without.perGram.lower,
    );
    expect(without.variance.reduce((s, v) => s + v.share, 0)).toBeCloseTo(1, 12);
    expect(with_.scatter.controls.upper).toBeLessThan(without.scatter.controls.upper);
  });

  it('is the same every time, and finite for two hundred runs', () => {
    expect(answer(base)).toEqual(answer(base));
    const many = answer({
      ...base,
      specimens: specimens(Array.from({ length: 200 }, (_, i) => (i * 7) % 23)),
      controls: controls(Array.from({ length: 200 }, (_, i) => (i * 5) % 13)),
    });
    for (const x of [many.perGram.lower, many.perGram.upper, many.upperLimitPerGram, many.decision.p]) {
      expect(Number.isFinite(x)).toBe(true);
    }
  });

  it('refuses what cannot be judged, in a sentence', () => {
    expect(why({ ...base, specimens: base.specimens.slice(0, 2) })).toBe('below-minimum-design');
    expect(why({ ...base, controls: [] })).toBe('below-minimum-design');
    expect(why({ ...base, controls: controls([1, 2, 3, 1.5]) })).toBe('count-not-whole');
    expect(why({ ...base, controls: base.controls.map((c) => ({ ...c, examined: 0 })) })).toBe(
      'fraction-out-of-range',
    );
    expect(why({ ...base, specimens: specimens([1, 2, 3, 4], 0) })).toBe('mass-missing');
    expect(why({ ...base, spikes: [{ found: 0, added: 20 }] })).toBe('recovery-zero');
    expect(why({ ...base, spikes: [{ found: 21, added: 20 }] })).toBe('recovery-not-counts');
    expect(why({ ...base, drill: { truePositive: [5, 20], falsePositive: [8, 20] } })).toBe(
      'drill-contradicts',
    );
    expect(why({ ...base, confidence: 1 })).toBe('confidence-out-of-range');
    const outcome = estimateNetRelease({ ...base, controls: base.controls.slice(0, 2) });
    expect(outcome.ok ? '' : outcome.refusal.message).toContain('add 1 control(s)');
  });
});
