import { describe, expect, it } from 'vitest';
import { mm } from '../../../units/index.ts';
import { type LatticeMap, mapSlope, mapToGrid, mapToPhoto } from './lattice.ts';
import { latticeFrom, numberFromZero } from './lattice-make.ts';

const half = Math.hypot(600, 400) / 2;
/** 100 px a pitch, turned by 5°, barrel distortion 3 % at the corner, slight tilt. */
function turned(deg: number, k1: number, tilt = 0): LatticeMap {
  const a = (deg * Math.PI) / 180;
  const g = half / 100;
  return {
    centre: [300, 200],
    radius: half,
    k1,
    k2: 0,
    plane: [g * Math.cos(a), g * Math.sin(a), 0.3, -g * Math.sin(a), g * Math.cos(a), 0.1, tilt, -tilt],
  };
}

describe('the map between photograph and grid', () => {
  it('comes back to the same point through lens and tilt', () => {
    for (const map of [turned(0, 0), turned(5, 0.03), turned(-9, -0.04, 0.02)]) {
      for (const [x, y] of [
        [0, 0],
        [600, 400],
        [300, 200],
        [17, 391],
      ] as const) {
        const [c, r] = mapToGrid(map, x, y);
        const [bx, by] = mapToPhoto(map, c, r);
        expect(Math.hypot(bx - x, by - y)).toBeLessThan(1e-8);
      }
    }
  });

  it('has the slope of its own finite differences', () => {
    const map = turned(4, -0.04, 0.015);
    const e = 1e-4;
    const [x, y] = [520, 60];
    const s = mapSlope(map, x, y);
    const [c1, r1] = mapToGrid(map, x + e, y);
    const [c0, r0] = mapToGrid(map, x - e, y);
    const [c3, r3] = mapToGrid(map, x, y + e);
    const [c2, r2] = mapToGrid(map, x, y - e);
    expect(s[0]).toBeCloseTo((c1 - c0) / (2 * e), 8);
    expect(s[1]).toBeCloseTo((c3 - c2) / (2 * e), 8);
    expect(s[2]).toBeCloseTo((r1 - r0) / (2 * e), 8);
    expect(s[3]).toBeCloseTo((r3 - r2) / (2 * e), 8);
  });

  it('names scale, turn and squares of a known lattice', () => {
    const map = numberFromZero(turned(5, 0), 600, 400);
    const print = {
      widthPx: 3,
      contrast: -0.2,
      contrastRgb: [-0.2, -0.2, -0.2],
      profile: [],
      profileStep: 1,
    } as const;
    const lattice = latticeFrom(
      { map, pitch: mm(3.1), relativeUncertainty: 0.001, print, lines: [], residualPx: 0 },
      600,
      400,
    );
    expect(lattice.umPerPx).toBeCloseTo(31, 9);
    expect(lattice.rotationDeg).toBeCloseTo(5, 9);
    expect(lattice.umPerPxAt([10, 10])).toBeCloseTo(31, 9);
    const a = lattice.toUm([100, 100]);
    const b = lattice.toUm([160, 180]);
    expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(3100, 7);
    expect(Math.min(...lattice.squares.map((s) => s.square[0]))).toBe(0);
    expect(Math.min(...lattice.squares.map((s) => s.square[1]))).toBe(0);
    // A 600 × 400 frame turned by 5° holds whole squares of 100 px inside and parts of more.
    const area = lattice.squares.filter((s) => s.whole).length;
    expect(area).toBeGreaterThanOrEqual(8);
    expect(area).toBeLessThanOrEqual(15);
    expect(lattice.squares.some((s) => !s.whole)).toBe(true);
  });
});
