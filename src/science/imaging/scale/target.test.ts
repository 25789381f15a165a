import { describe, expect, it } from 'vitest';
import { um, umPerPx } from '../../../units/index.ts';
import type { Picture } from '../finding.ts';
import { chanceFrom, drawGrid } from './drawn-grid.ts';
import { opticsAgainstPrint } from './stored-optics.ts';
import { findTarget } from './target.ts';

interface Ruler {
  readonly width: number;
  readonly height: number;
  readonly period: number;
  readonly turnDeg: number;
  readonly noise: number;
  readonly pale?: boolean;
}

/** A row of ticks, every fifth longer, every tenth longest, drawn by distance in the ruler's own frame. */
function drawRuler(r: Ruler): Picture {
  const rnd = chanceFrom(5);
  const data = new Uint8Array(r.width * r.height);
  const a = (r.turnDeg * Math.PI) / 180;
  for (let y = 0; y < r.height; y++) {
    for (let x = 0; x < r.width; x++) {
      const dx = x + 0.5 - r.width / 2;
      const dy = y + 0.5 - r.height / 2;
      const u = dx * Math.cos(a) + dy * Math.sin(a);
      const v = -dx * Math.sin(a) + dy * Math.cos(a);
      const n = Math.round(u / r.period);
      const length = n % 10 === 0 ? 0.3 : n % 5 === 0 ? 0.24 : 0.16;
      const d = Math.abs(u - n * r.period);
      const on = v > -0.05 * r.height && v < length * r.height && Math.abs(n) < 40;
      const half = Math.max(1, 0.06 * r.period);
      const ink = on ? Math.max(0, Math.min(1, half + 0.5 - d)) : 0;
      const ground = r.pale ? 0.15 : 0.8;
      const value = ground + (r.pale ? 0.6 : -0.65) * ink + r.noise * (rnd() - 0.5);
      data[y * r.width + x] = Math.max(0, Math.min(255, Math.round(255 * value)));
    }
  }
  return { width: r.width, height: r.height, channels: 1, data, full: 255 };
}

describe('the scale from a target', () => {
  const base = { width: 900, height: 600, period: 23.37, turnDeg: 2.5, noise: 0.04 };
  const rulers: Record<string, Ruler> = {
    'dark ticks, slightly turned': base,
    'pale ticks on dark': { ...base, pale: true, turnDeg: -4 },
    'a ruler standing upright': { ...base, turnDeg: 88, period: 17.9 },
    'few wide ticks': { ...base, period: 96.4, turnDeg: -8 },
    'a large photograph': { ...base, width: 2600, height: 1700, period: 61.3 },
  };
  for (const [name, ruler] of Object.entries(rulers)) {
    it(`is right within 0.3 %: ${name}`, () => {
      const found = findTarget(drawRuler(ruler), um(100));
      if (!found.ok) throw new Error(found.refusal.message);
      expect(Math.abs(found.value.periodPx / ruler.period - 1)).toBeLessThan(0.003);
      expect(found.value.umPerPx).toBeCloseTo(100 / found.value.periodPx, 9);
      expect(found.value.ticks).toBeGreaterThanOrEqual(6);
      expect(Math.abs(found.value.directionDeg - ruler.turnDeg)).toBeLessThan(0.5);
    });
  }

  it('abstains where no row of ticks is', () => {
    const plain = drawGrid({ width: 700, height: 500, seed: 3, pitchPx: null, particles: 25, fibres: 10 });
    const found = findTarget(plain, um(100));
    expect(found.ok ? found.value.ticks : found.refusal.why).toBe('no-scale');
  });
});

describe('a stored lens setting', () => {
  const print = { umPerPx: umPerPx(4), relativeUncertainty: 0.001 };
  it('agrees with the print within what both promise', () => {
    const check = opticsAgainstPrint({ umPerPx: umPerPx(4.02), relativeUncertainty: 0.003 }, print);
    // ln(1.005) / √(0.003² + 0.001² + 0.003²) = 0.0049875 / 0.0043589
    expect(check.z).toBeCloseTo(1.1442, 3);
    expect(check.warning).toBeNull();
  });
  it('is called out when the zoom was another', () => {
    const check = opticsAgainstPrint({ umPerPx: umPerPx(5), relativeUncertainty: 0.003 }, print);
    expect(check.warning?.why).toBe('optics-disagree');
    expect(check.warning?.message).toContain('25.0 %');
  });
});
