import { describe, expect, it } from 'vitest';
import { recipeFor } from '../photographs/recipe.ts';
import { chanceFrom } from './chance.ts';
import { addPolygon, windowAround } from './coverage.ts';
import { lensWith } from './lens.ts';
import { areaOf, bandAround, centreOf, feretOf, type Spot } from './outline-measures.ts';
import { drawPhotograph } from './photograph.ts';
import { fibreLine, fragmentOutline } from './piece-outlines.ts';

describe('coverage of a polygon', () => {
  it('adds up to its area for any outline and any place between pixels', () => {
    const chance = chanceFrom(5);
    for (let i = 0; i < 40; i++) {
      const dx = chance.between(-50, 50);
      const outline = fragmentOutline(chance.between(4, 60), 0.6, chance).map(
        ([x, y]): Spot => [x + dx, y + 0.37],
      );
      const cover = windowAround(outline, 2);
      addPolygon(cover, outline);
      const sum = cover.share.reduce((s, v) => s + v, 0);
      expect(Math.abs(sum - areaOf(outline)) / areaOf(outline)).toBeLessThan(1e-4);
    }
  });

  it('gives each pixel of a half-covering rectangle its exact share', () => {
    const cover = { left: 0, top: 0, width: 4, height: 3, share: new Float32Array(12) };
    addPolygon(cover, [
      [0.5, 1],
      [2.25, 1],
      [2.25, 1.5],
      [0.5, 1.5],
    ]);
    expect([...cover.share]).toEqual([0, 0, 0, 0, 0.25, 0.5, 0.125, 0, 0, 0, 0, 0]);
  });
});

describe('measures of drawn outlines', () => {
  // Rectangle 3 × 4: area 12, longest diagonal 5, shortest width 3 (plane geometry).
  it('are those of plane geometry', () => {
    const rectangle: Spot[] = [
      [1, 1],
      [4, 1],
      [4, 5],
      [1, 5],
    ];
    expect(areaOf(rectangle)).toBe(12);
    expect(centreOf(rectangle)).toEqual([2.5, 3]);
    expect(feretOf(rectangle)).toEqual({ max: 5, min: 3 });
  });

  it('give a band the area of its length times its width', () => {
    const line = fibreLine(1000, 2, chanceFrom(3));
    const area = areaOf(bandAround(line, () => 8));
    expect(area / 16_000).toBeCloseTo(1, 2);
  });
});

describe('a lens', () => {
  it('leads from the filter to the photograph and back', () => {
    const lens = lensWith(2400, 1800, 6, 0.06, -0.02);
    for (const [x, y] of [
      [0, 0],
      [5000, 3000],
      [-6500, 4800],
    ] as const) {
      const [u, v] = lens.toPhoto(x, y);
      const [backX, backY] = lens.toFilter(u, v);
      expect(backX).toBeCloseTo(x, 6);
      expect(backY).toBeCloseTo(y, 6);
    }
  });
});

describe('a drawn photograph', () => {
  const filter = {
    name: 'small',
    run: 'small',
    kind: 'worn-board',
    session: 1,
    synthetic: 8,
    spiked: null,
    tissue: 3,
    passed: 1,
    clogged: false,
    handle: 'green',
  } as const;
  const recipe = { ...recipeFor(filter, 4), width: 1200, height: 900, umPerPx: 12 };

  it('is the same for the same seed and another for another', () => {
    const first = drawPhotograph(recipe);
    expect(Buffer.compare(first.pixels, drawPhotograph(recipe).pixels)).toBe(0);
    expect(Buffer.compare(first.pixels, drawPhotograph({ ...recipe, seed: 77 }).pixels)).not.toBe(0);
  });

  it('keeps the truth of all that lies on it, inside the whole squares', () => {
    const { truth } = drawPhotograph(recipe);
    expect(truth.pieces.filter((p) => p.origin === 'synthetic')).toHaveLength(8);
    expect(truth.pieces.filter((p) => p.origin === 'plant')).toHaveLength(3);
    expect(truth.whole_squares).toHaveLength(12);
    expect(truth.pieces.every((p) => p.square !== null && !p.touches_frame)).toBe(true);
  });
});
