import { describe, expect, it } from 'vitest';
import { mm } from '../../../units/index.ts';
import { drawGrid, drawnGridAt, type GridDrawing } from './drawn-grid.ts';
import { findLattice } from './find-lattice.ts';

const PITCH = mm(3.1);

/** µm per px at the middle by finite differences of the drawing's own rule: the truth. */
function trueScale(d: GridDrawing): number {
  const [x, y] = [d.width / 2, d.height / 2];
  const a = drawnGridAt(d, x - 0.5, y);
  const b = drawnGridAt(d, x + 0.5, y);
  const c = drawnGridAt(d, x, y - 0.5);
  const e = drawnGridAt(d, x, y + 0.5);
  return 3100 * Math.sqrt(Math.abs((b[0] - a[0]) * (e[1] - c[1]) - (b[1] - a[1]) * (e[0] - c[0])));
}

function found(d: GridDrawing) {
  const out = findLattice(drawGrid(d), PITCH);
  if (!out.ok) throw new Error(`refused: ${out.refusal.message}`);
  return out.value;
}

const base = { width: 720, height: 520, seed: 1, pitchPx: 140, rotationDeg: 5 } as const;

describe('the scale from printed squares', () => {
  const scenes: Record<string, GridDrawing> = {
    'plain grid, turned': { ...base },
    'turned by 15° and the other way': { ...base, rotationDeg: -15, origin: [0.1, 0.9] },
    'turned by 38°': { ...base, rotationDeg: 38 },
    'thin faint lines in grain': { ...base, lineShare: 0.015, depth: -0.08, grain: 0.02 },
    'thick lines': { ...base, lineShare: 0.07, pitchPx: 260 },
    'pale lines on a dark membrane': { ...base, membrane: [0.15, 0.15, 0.17], depth: 0.2 },
    'a third of the ink missing, pieces, fibres and stains': {
      ...base,
      missing: 0.35,
      particles: 40,
      fibres: 12,
      stains: 3,
      seed: 4,
    },
    'two squares in view': { ...base, pitchPx: 300, origin: [0.2, 0.4], rotationDeg: -3 },
    'many small squares': { ...base, pitchPx: 62, lineShare: 0.04 },
    'the filter ends inside the picture': {
      ...base,
      rim: { centre: [260, 300], radius: 330, beyond: 0.25 },
    },
    'grey picture': { ...base, grey: true },
    'faint print under strong fibres, inside a rim': {
      ...base,
      width: 900,
      height: 760,
      pitchPx: 300,
      lineShare: 0.018,
      depth: -0.12,
      missing: 0.3,
      fibres: 9,
      particles: 14,
      stains: 3,
      rim: { centre: [520, 380], radius: 470, beyond: 0.2 },
      seed: 12,
    },
  };
  for (const [name, d] of Object.entries(scenes)) {
    it(`is right within 0.15 %: ${name}`, () => {
      const lattice = found(d);
      const error = lattice.umPerPx / trueScale(d) - 1;
      expect(Math.abs(error)).toBeLessThan(0.0015);
      expect(Math.abs(error)).toBeLessThan(4 * lattice.relativeUncertainty);
      expect(lattice.rotationDeg).toBeCloseTo(d.rotationDeg ?? 0, 0);
    });
  }

  it('takes the lens out: true lengths at the corners of a photograph bent by 6 %', () => {
    for (const k1 of [-0.06, 0.06]) {
      const d = { ...base, k1, pitchPx: 110, seed: 7 };
      const lattice = found(d);
      expect(Math.abs(lattice.umPerPx / trueScale(d) - 1)).toBeLessThan(0.002);
      for (const [x, y] of [
        [40, 40],
        [680, 40],
        [40, 480],
        [680, 480],
      ] as const) {
        const [ax, ay] = lattice.toUm([x, y]);
        const [bx, by] = lattice.toUm([360, 260]);
        const [cx, cy] = drawnGridAt(d, x, y);
        const [ex, ey] = drawnGridAt(d, 360, 260);
        const truth = 3100 * Math.hypot(cx - ex, cy - ey);
        expect(Math.abs(Math.hypot(ax - bx, ay - by) / truth - 1)).toBeLessThan(0.003);
      }
    }
  });

  it('describes the print: width, depth, ink of each channel', () => {
    const d = { ...base, lineShare: 0.05, depth: -0.3, ink: [1, 0.5, 0.2] as const, shade: 0 };
    const lattice = found(d);
    expect(Math.abs(lattice.print.widthPx - 7)).toBeLessThan(0.7);
    expect(lattice.print.contrastRgb[0]).toBeCloseTo(-0.3, 1);
    expect(lattice.print.contrastRgb[2]).toBeCloseTo(-0.06, 1);
    expect(lattice.lines.filter((l) => l.seen > 0.8).length).toBeGreaterThanOrEqual(8);
  });
});

describe('abstaining', () => {
  const scenes: Record<string, GridDrawing> = {
    'plain membrane': { ...base, pitchPx: null },
    'pieces and fibres on a plain membrane': { ...base, pitchPx: null, particles: 60, fibres: 30, stains: 4 },
    'coarse grain': { ...base, pitchPx: null, grain: 0.06 },
    'stripes in one direction': { ...base, pattern: 'stripes' },
    'a weave, dark and light by turns': { ...base, pattern: 'weave', pitchPx: 60 },
    'a single pair of crossing lines': { ...base, pitchPx: 2000, origin: [0.02, 0.02], rotationDeg: 2 },
    'oblongs, half as high again as wide': { ...base, rowRatio: 1.5, pitchPx: 110 },
    'oblongs, twice as high as wide': { ...base, rowRatio: 2, pitchPx: 80 },
    'a wall of bricks': { ...base, pattern: 'bricks', pitchPx: 70 },
    'a round rim alone': { ...base, pitchPx: null, rim: { centre: [300, 260], radius: 300, beyond: 0.2 } },
  };
  for (const [name, d] of Object.entries(scenes)) {
    it(`has no scale, and says so: ${name}`, () => {
      const out = findLattice(drawGrid(d), PITCH);
      expect(out.ok ? out.value.umPerPx : out.refusal.why).toBe('no-scale');
    });
  }

  it('refuses a pitch that is none', () => {
    expect(() => findLattice(drawGrid({ ...base, width: 80, height: 80 }), 0 as never)).toThrow(RangeError);
  });
});
