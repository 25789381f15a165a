import { describe, expect, it } from 'vitest';
import { mm } from '../../../units/index.ts';
import type { Picture } from '../finding.ts';
import { chanceFrom, drawGrid } from './drawn-grid.ts';
import { findFilterEdge } from './find-edge.ts';
import { findLattice } from './find-lattice.ts';
import { focusOf } from './focus.ts';
import { gatesOf } from './gates.ts';
import { glareOf } from './glare.ts';

const base = { width: 720, height: 520, seed: 3, pitchPx: 130, rotationDeg: 4, noise: 0.003, grain: 0.004 };

function gated(picture: Picture) {
  const out = findLattice(picture, mm(3.1));
  const lattice = out.ok ? out.value : null;
  return gatesOf(picture, lattice, findFilterEdge(picture, lattice));
}

/** A scene of many grounds: bands, discs and slopes of strong colours. */
function scene(seed: number): Picture {
  const rnd = chanceFrom(seed);
  const [width, height] = [640, 480];
  const data = new Uint8Array(width * height * 3);
  const discs = Array.from({ length: 45 }, () => ({
    x: rnd() * width,
    y: rnd() * height,
    r: 25 + 75 * rnd(),
    tint: [255 * rnd(), 255 * rnd(), 255 * rnd()],
  }));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let tint = [90 + y / 5, 130, 200 - x / 6];
      for (const d of discs) if (Math.hypot(x - d.x, (y - d.y) * 1.4) < d.r) tint = d.tint;
      for (let c = 0; c < 3; c++) data[(y * width + x) * 3 + c] = Math.round(tint[c]!);
    }
  }
  return { width, height, channels: 3, data, full: 255 };
}

describe('focus', () => {
  for (const blur of [0.8, 1.5, 3, 5]) {
    it(`reads a blur of ${blur} px from the edges within a fifth`, () => {
      const d = { ...base, blur, lineShare: 0.22, pitchPx: 160, particles: 30 };
      const focus = focusOf(drawGrid(d));
      expect(focus.blurPx).not.toBeNull();
      expect(Math.abs(focus.blurPx! / blur - 1)).toBeLessThan(0.25);
    });
  }
  it('says nothing where there are no edges', () => {
    const focus = focusOf(drawGrid({ ...base, pitchPx: null }));
    expect(focus.blurPx).toBeNull();
  });
  it.each([8, 16, 30])('reads a wide blur of %s px from further away, within a third', (blur) => {
    const soft = { ...base, width: 2000, height: 1500, pitchPx: 400, lineShare: 0.2, depth: -0.3, blur };
    const { blurPx } = focusOf(drawGrid(soft), true);
    expect(blurPx!).toBeGreaterThan(0.67 * blur);
    expect(blurPx!).toBeLessThan(1.33 * blur);
  });
  it('looks for soft edges only where print was found', () => {
    const soft = drawGrid({ ...base, width: 2000, height: 1500, pitchPx: 400, lineShare: 0.06, blur: 30 });
    expect(focusOf(soft).blurPx).toBeNull();
    expect(focusOf(soft, true).blurPx!).toBeGreaterThan(15);
  });
  it('does not take sharp faint print for a soft one', () => {
    const faint = drawGrid({
      ...base,
      width: 1440,
      height: 1040,
      depth: -0.05,
      lineShare: 0.06,
      stains: 4,
      blur: 1,
    });
    expect(focusOf(faint, true).blurPx ?? 0).toBeLessThan(2.5);
  });
  it('warns with the measure', () => {
    const gates = gated(drawGrid({ ...base, blur: 4.5, lineShare: 0.1, particles: 30 }));
    const warning = gates.warnings.find((w) => w.why === 'out-of-focus');
    expect(warning?.message).toContain(`${gates.blurPx!.toFixed(1)} pixels`);
  });
});

describe('glare', () => {
  it('measures the blown-out part and leaves single highlights', () => {
    const picture = drawGrid(base);
    const data = picture.data as Uint8Array;
    const blow = (x0: number, y0: number, w: number, h: number) => {
      for (let y = y0; y < y0 + h; y++)
        for (let x = x0; x < x0 + w; x++) data.fill(255, (y * 720 + x) * 3, (y * 720 + x) * 3 + 3);
    };
    blow(100, 100, 120, 104);
    blow(400, 300, 5, 5);
    const glare = glareOf(picture);
    expect(glare.fraction).toBeGreaterThan(0.9 * ((120 * 104) / (720 * 520)));
    expect(glare.fraction).toBeLessThan(1.1 * ((120 * 104) / (720 * 520)));
    expect(gated(picture).warnings.map((w) => w.why)).toContain('glare');
  });
});

describe('a photograph of something else', () => {
  it('is not taken for a filter', () => {
    for (const seed of [1, 2, 3]) expect(gated(scene(seed)).refusal?.why).toBe('not-a-filter');
  });
  it('but a dirty membrane is one, with print and without', () => {
    const dirty = { ...base, particles: 60, fibres: 20, stains: 5, shade: 0.12 };
    expect(gated(drawGrid(dirty)).refusal).toBeNull();
    expect(gated(drawGrid({ ...dirty, pitchPx: null })).refusal).toBeNull();
  });
});
