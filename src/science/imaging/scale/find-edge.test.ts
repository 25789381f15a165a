import { describe, expect, it } from 'vitest';
import { mm } from '../../../units/index.ts';
import { drawGrid, type GridDrawing } from './drawn-grid.ts';
import { insideFilter } from './edge.ts';
import { findFilterEdge } from './find-edge.ts';
import { findLattice } from './find-lattice.ts';

const base = { width: 720, height: 520, seed: 2, pitchPx: 130, rotationDeg: 4 } as const;

function edgeOf(d: GridDrawing) {
  const picture = drawGrid(d);
  const lattice = findLattice(picture, mm(3.1));
  return findFilterEdge(picture, lattice.ok ? lattice.value : null);
}

describe('the rim of the filter', () => {
  const rims = {
    'whole filter in view, dark beyond': { centre: [370, 255], radius: 240, beyond: 0.2 },
    'an arc across a corner': { centre: [200, 200], radius: 430, beyond: 0.35 },
    'paler beyond': { centre: [300, 300], radius: 340, beyond: 0.99 },
    'a shallow arc': { centre: [360, 900], radius: 800, beyond: 0.5 },
  } as const;
  for (const [name, rim] of Object.entries(rims)) {
    it(`is found to about a pixel: ${name}`, () => {
      const edge = edgeOf({ ...base, rim: { ...rim, centre: [...rim.centre] } });
      expect(edge.everywhere).toBe(false);
      // Judged where it is used: along the rim in view, 4 px to each side.
      for (let k = 0; k < 72; k++) {
        const a = (2 * Math.PI * k) / 72;
        const at = (r: number) => [rim.centre[0] + r * Math.cos(a), rim.centre[1] + r * Math.sin(a)] as const;
        const [x, y] = at(rim.radius);
        if (x < 8 || y < 8 || x > 712 || y > 512) continue;
        expect(insideFilter(edge, ...at(rim.radius - 4))).toBe(true);
        expect(insideFilter(edge, ...at(rim.radius + 4))).toBe(false);
      }
    });
  }

  const whole: Record<string, GridDrawing> = {
    'printed membrane to the frame': { ...base },
    'stains, pieces and fibres': { ...base, stains: 5, particles: 40, fibres: 15, seed: 8 },
    'no print': { ...base, pitchPx: null, stains: 3, shade: 0.15 },
  };
  for (const [name, d] of Object.entries(whole)) {
    it(`is not invented: ${name}`, () => {
      const edge = edgeOf(d);
      expect(edge.everywhere).toBe(true);
      expect(edge.insideFraction).toBe(1);
    });
  }
});
