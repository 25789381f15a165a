import { describe, expect, it } from 'vitest';
import { um, umPerPx } from '../../units/index.ts';
import { cellMedians } from './background.ts';
import { coveredShare, coverGate } from './covered.ts';
import { classicalFinder } from './find.ts';
import type { FindWish, Picture } from './finding.ts';
import { survey } from './survey.ts';

const W = 1280;
const H = 960;
const WISH: FindWish = {
  scale: { from: 'given', scale: umPerPx(6) },
  smallest: um(100),
  falseFindsPerBlank: 0.5,
};

/** A pale membrane with fine grain and an orange patch in its middle; not round, or it would pass for a filter on a bench. */
function membrane(side: number): Picture {
  const data = new Uint8Array(W * H * 3);
  let state = 7;
  for (let y = 0, i = 0; y < H; y++) {
    for (let x = 0; x < W; x++, i += 3) {
      state = (Math.imul(state, 1103515245) + 12345) >>> 0;
      const grain = (state >>> 24) / 64 - 2;
      const under = Math.abs(x - W / 2 + 40 * Math.sin(y / 60)) < side / 2 && Math.abs(y - H / 2) < side / 2;
      data[i] = (under ? 205 : 225) + grain;
      data[i + 1] = (under ? 140 : 222) + grain;
      data[i + 2] = (under ? 70 : 214) + grain;
    }
  }
  return { width: W, height: H, channels: 3, data, full: 255 };
}

describe('a filter under a deposit', () => {
  it('is refused where more than a quarter of it is hidden', () => {
    const share = coveredShare(cellMedians(survey(membrane(640)), null, null));
    const patch = 640 ** 2 / (W * H);
    expect(Math.abs(share - patch)).toBeLessThan(0.03);
    expect(coverGate(share)).toMatchObject({ refusal: { why: 'too-crowded' }, warning: null });
    expect(coverGate(0)).toEqual({ refusal: null, warning: null });
  });

  it('is warned of where a tenth is hidden, and that part counts as not looked at', () => {
    const finding = classicalFinder.find(membrane(350), WISH);
    expect(finding.refusal).toBeNull();
    expect(finding.warnings.map((w) => w.why)).toContain('covered');
    const patch = 350 ** 2 / (W * H);
    expect(finding.searchedFraction).toBeGreaterThan(1 - patch - 0.03);
    expect(finding.searchedFraction).toBeLessThan(1 - patch + 0.03);
  });

  it('is not seen in a piece of two millimetres’ area', () => {
    const finding = classicalFinder.find(membrane(140), WISH);
    expect(finding.warnings.map((w) => w.why)).not.toContain('covered');
    expect(finding.searchedFraction).toBeGreaterThan(0.97);
  });
});
