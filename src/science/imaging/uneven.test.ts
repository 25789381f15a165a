import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import { classicalFinder } from './find.ts';
import type { Picture } from './finding.ts';

/** Discs of many lights, `gap` px apart from middle to middle, on a ground of 60 of 255. */
function discs(gap: number): Picture {
  const [width, height] = [240, 200];
  const chance = chanceFrom(7);
  const data = new Uint8Array(width * height).fill(60);
  for (let ry = gap / 2; ry < height; ry += gap) {
    for (let rx = gap / 2; rx < width; rx += gap) {
      const [cx, cy] = [rx + 3 * chance.uniform(), ry + 3 * chance.uniform()];
      const light = 110 + 120 * chance.uniform();
      for (let y = Math.max(0, Math.ceil(cy - 17)); y < Math.min(height, cy + 17); y++) {
        for (let x = Math.max(0, Math.ceil(cx - 17)); x < Math.min(width, cx + 17); x++) {
          if (Math.hypot(x - cx, y - cy) < 17) data[y * width + x] = light;
        }
      }
    }
  }
  for (let i = 0; i < data.length; i++) data[i] = data[i]! + Math.floor(4 * chance.uniform());
  return { width, height, channels: 1, data, full: 255 };
}
const wish = { scale: { from: 'nothing' }, smallest: null, falseFindsPerBlank: 0.5 } as const;

describe('a picture that particles half cover', () => {
  it('is refused in words, not answered with a count', () => {
    const finding = classicalFinder.find(discs(40), wish);
    expect(finding.particles).toHaveLength(0);
    expect(['too-crowded', 'not-a-filter']).toContain(finding.refusal?.why);
    expect(finding.refusal?.message).toMatch(/filter/);
    expect(finding.searchedFraction).toBe(0);
  });

  it('is answered where ground shows between', () => {
    const finding = classicalFinder.find(discs(100), wish);
    expect(finding.refusal?.why).toBe('no-scale');
    expect(finding.particles.length).toBeGreaterThan(2);
  });
});
