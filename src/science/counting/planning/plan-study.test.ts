import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../maths/index.ts';
import { estimateNetRelease } from '../joint/net-release.ts';
import { amountChance } from './amount.ts';
import { chanceToSee, smallestSeen } from './detection.ts';
import { expectedUncertainty } from './expected-uncertainty.ts';
import { type Design, layoutOf, type PlanWish, seedOf } from './plan-wish.ts';
import { limitWithinReach, withinReach } from './reach.ts';
import { splitsOfHours } from './splits.ts';
import { drawStudy } from './virtual-study.ts';

const wish: PlanWish = {
  truth: {
    background: 5,
    releasePerGram: 6,
    backgroundScatter: 0.1,
    releaseScatter: 0.1,
    recovery: 0.8,
    recoverySd: 0.05,
  },
  massG: 1,
  fraction: 1,
  hours: { specimen: 2, control: 1.5, spike: 2, available: 30 },
  addedPerSpike: 40,
  confidence: 0.95,
};
const WITHIN = 2;

/** The same questions answered the long way: every virtual study judged in full. */
function inFull(of: PlanWish, design: Design, studies: number) {
  const limits: number[] = [];
  let stated = 0;
  for (let i = 0; i < studies; i++) {
    const seed = 7_000_000 + seedOf(of, i);
    const study = drawStudy(chanceFrom(seed), of.truth, layoutOf(of, design));
    const answer = estimateNetRelease({ ...study, confidence: of.confidence });
    if (!answer.ok) throw new Error(answer.refusal.message);
    const { perGram, decision, upperLimitPerGram } = answer.value;
    limits.push(upperLimitPerGram);
    const { value, lower, upper } = perGram;
    if (decision.above && value > 0 && lower >= value / WITHIN && upper <= value * WITHIN) stated++;
  }
  limits.sort((a, b) => a - b);
  return { limit: limits[limits.length >> 1]!, stated: stated / studies };
}

describe('planning on virtual studies', () => {
  it('calls an empty product at most one time in twenty, within chance', () => {
    const p = chanceToSee(wish, 6, 6, 0, 1500);
    expect(p).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 1500));
  });

  it('sees more with more runs and with more release', () => {
    expect(chanceToSee(wish, 10, 10, 4)).toBeGreaterThan(chanceToSee(wish, 4, 4, 4));
    expect(chanceToSee(wish, 6, 6, 10)).toBeGreaterThan(chanceToSee(wish, 6, 6, 3));
  });

  it('cannot see with too few runs for the labels to tell', () => {
    expect(chanceToSee(wish, 4, 1, 1000, 20)).toBe(0);
    expect(smallestSeen(wish, 4, 1, 0.8)).toBeNull();
  });

  it.each([
    ['few runs', wish, 6, 6],
    ['more runs', wish, 12, 8],
    ['no background', { ...wish, truth: { ...wish.truth, background: 0 } }, 4, 4],
    ['strong scatter', { ...wish, truth: { ...wish.truth, backgroundScatter: 1, background: 30 } }, 6, 6],
  ])('finds the smallest release seen with %s, larger for a surer sight', (_, of, n, m) => {
    const often = smallestSeen(of, n, m, 0.8)!;
    const nearly = smallestSeen(of, n, m, 0.95)!;
    expect(nearly).toBeGreaterThan(often);
    // three Monte Carlo errors of 400 studies, and of the 200 that it was found by
    const far = (p: number) => 3 * Math.sqrt((p * (1 - p) * 1.5) / 200);
    expect(Math.abs(chanceToSee(of, n, m, often) - 0.8)).toBeLessThan(far(0.8));
    expect(Math.abs(chanceToSee(of, n, m, nearly) - 0.95)).toBeLessThan(far(0.95));
  });

  it('has a limit within reach that agrees with judging every study', () => {
    const none = { ...wish, truth: { ...wish.truth, releasePerGram: 0 } };
    const full = inFull(none, { specimens: 6, controls: 6, spikes: 3, tested: 0 }, 150).limit;
    const quick = limitWithinReach(wish, 6, 6, 3)!;
    expect(Math.abs(quick / full - 1)).toBeLessThan(0.25);
  });

  it.each([6, 15, 60])(
    'has a chance to state an amount that agrees with judging every study: %d a gram',
    (release) => {
      const of = { ...wish, truth: { ...wish.truth, releasePerGram: release } };
      const design = { specimens: 6, controls: 6, spikes: 3, tested: 0 };
      const full = inFull(of, design, 150).stated;
      expect(Math.abs(amountChance(of, design, WITHIN) - full)).toBeLessThan(0.15);
    },
  );

  it('states no amount without spiked runs, or below the fewest runs', () => {
    const much = { ...wish, truth: { ...wish.truth, releasePerGram: 200 } };
    expect(amountChance(much, { specimens: 6, controls: 6, spikes: 0, tested: 0 }, WITHIN)).toBe(0);
    expect(amountChance(much, { specimens: 3, controls: 4, spikes: 3, tested: 0 }, WITHIN)).toBe(0);
    expect(amountChance(much, { specimens: 6, controls: 6, spikes: 3, tested: 0 }, WITHIN)).toBeGreaterThan(
      0.8,
    );
  });

  it('splits the hours within what there is, best first', () => {
    for (const aim of ['above', 'amount'] as const) {
      const designs = splitsOfHours({ ...wish, hours: { ...wish.hours, available: 40 } }, aim, WITHIN);
      expect(designs.length).toBeGreaterThan(2);
      for (const d of designs) expect(d.hours).toBeLessThanOrEqual(40);
      const of = (d: (typeof designs)[number]) => (aim === 'amount' ? d.amount! : d.chance);
      expect(of(designs[0]!)).toBeGreaterThanOrEqual(of(designs.at(-1)!));
      expect(designs[0]!.spikes > 0).toBe(aim === 'amount');
    }
    expect(splitsOfHours({ ...wish, hours: { ...wish.hours, available: 8 } }, 'above', WITHIN)).toEqual([]);
  });

  it('buys tested pieces only where they are wanted, and then within the hours', () => {
    const confirming = { hoursPerPiece: 0.1, trueShare: 0.7 };
    const designs = splitsOfHours(
      {
        ...wish,
        confirming,
        truth: { ...wish.truth, releasePerGram: 40 },
        hours: { ...wish.hours, available: 60 },
      },
      'amount',
      WITHIN,
    );
    expect(designs[0]!.tested).toBeGreaterThan(0);
    expect(designs[0]!.hours).toBeLessThanOrEqual(60);
  });

  // worked by hand: net 10 a run, background 5, no scatter, 5 + 5 runs, two spikes of 50 at R = ½ with SD 0, nothing tested
  it('adds counting and recovery in squares', () => {
    const of: PlanWish = {
      ...wish,
      truth: {
        background: 5,
        releasePerGram: 20,
        backgroundScatter: 0,
        releaseScatter: 0,
        recovery: 0.5,
        recoverySd: 0,
      },
      addedPerSpike: 50,
    };
    const counting = (5 + 10 + 0.1) / 5 + (5 + 0.1) / 5;
    const recovery = 0.25 / 50 / 2 / 0.25;
    const u = expectedUncertainty(of, { specimens: 5, controls: 5, spikes: 2, tested: 0 });
    expect(u).toBeCloseTo(Math.sqrt(counting / 100 + recovery), 12);
  });

  it('says what two more runs do to the limit within reach', () => {
    const now = withinReach(wish, 5, 4, 3);
    expect(now.limitPerGram).toBeGreaterThan(0);
    expect(now.more[2]!.limitPerGram!).toBeLessThan(now.limitPerGram!);
    expect(now.more[2]!.hours).toBe(7);
  });

  it('promises no limit and no sight below the minimum, and no more for fewer runs', () => {
    for (const [n, m] of [
      [3, 4],
      [3, 3],
      [2, 10],
      [1, 1],
      [3, 0],
    ] as const) {
      expect(limitWithinReach(wish, n, m, 3), `${n} + ${m}`).toBeNull();
      expect(smallestSeen(wish, n, m, 0.8), `${n} + ${m}`).toBeNull();
    }
    for (const background of [3, 20]) {
      const of = (n: number, m: number): number =>
        limitWithinReach({ ...wish, truth: { ...wish.truth, background } }, n, m, 3)!;
      for (const [n, m] of [
        [3, 5],
        [4, 4],
        [4, 6],
        [6, 3],
        [6, 6],
      ] as const) {
        const now = of(n, m);
        // whole counts leave a typical limit uneven by a hundredth or two; more controls make scatter surer too, which
        // takes back a little of what they give
        expect(of(n + 1, m), `${n} + ${m}, a run more`).toBeLessThan(1.03 * now);
        expect(of(n, m + 1), `${n} + ${m}, a control more`).toBeLessThan(1.12 * now);
      }
    }
  });
});
