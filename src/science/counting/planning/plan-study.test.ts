import { describe, expect, it } from 'vitest';
import {
  detectionChance,
  limitWithinReach,
  type PlanWish,
  smallestSeen,
  splitsOfHours,
  withinReach,
} from './plan-study.ts';

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

describe('planning on virtual studies', () => {
  it('calls an empty product at most one time in twenty, within chance', () => {
    const p = detectionChance(wish, 6, 6, 0, 1500);
    expect(p).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 1500));
  });

  it('sees more with more runs and with more release', () => {
    expect(detectionChance(wish, 10, 10, 4)).toBeGreaterThan(detectionChance(wish, 4, 4, 4));
    expect(detectionChance(wish, 6, 6, 10)).toBeGreaterThan(detectionChance(wish, 6, 6, 3));
  });

  it('cannot see with too few runs for the labels to tell', () => {
    expect(detectionChance(wish, 4, 1, 1000, 20)).toBe(0);
    expect(smallestSeen(wish, 4, 1, 0.8)).toBeNull();
  });

  it('finds the smallest release seen, larger for a surer sight', () => {
    const often = smallestSeen(wish, 6, 6, 0.8)!;
    const nearly = smallestSeen(wish, 6, 6, 0.95)!;
    expect(nearly).toBeGreaterThan(often);
    expect(detectionChance(wish, 6, 6, often, 400)).toBeGreaterThan(0.7);
  });

  it('splits the hours within what there is, best first', () => {
    const designs = splitsOfHours(wish, 3);
    expect(designs.length).toBeGreaterThan(2);
    for (const d of designs) expect(d.hours).toBeLessThanOrEqual(30);
    expect(designs[0]!.chance).toBeGreaterThanOrEqual(designs.at(-1)!.chance);
    expect(splitsOfHours({ ...wish, hours: { ...wish.hours, available: 8 } }, 0)).toEqual([]);
  });

  it('says what two more runs do to the limit within reach', () => {
    const now = withinReach(wish, 5, 4, 3);
    expect(now.limitPerGram).toBeGreaterThan(0);
    expect(now.more[2]!.limitPerGram!).toBeLessThan(now.limitPerGram!);
    expect(limitWithinReach(wish, 3, 3, 3)).toBeNull();
  });
});
