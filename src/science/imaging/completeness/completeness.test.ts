import { describe, expect, it } from 'vitest';
import { fraction, mm, um, umPerPx } from '../../../units/index.ts';
import { chanceFrom } from '../../maths/index.ts';
import { classicalFinder } from '../find.ts';
import type { Finder, Finding, FindWish, Particle, Picture } from '../finding.ts';
import { drawGrid } from '../scale/drawn-grid.ts';
import { completenessOf, completenessSteps } from './completeness.ts';
import { type Design, piecesOf, USUAL_DESIGN } from './design.ts';
import { drawInto, foundOf } from './drawn-control.ts';

const control = (seed: number): Picture =>
  drawGrid({ width: 640, height: 480, seed, pitchPx: 210, rotationDeg: 3, noise: 0.004, grain: 0.004 });

const wish: FindWish = {
  scale: { from: 'given', scale: umPerPx(5) },
  smallest: null,
  falseFindsPerBlank: 0.5,
};

/** Sees dark pieces that stand at least `least` below the membrane, and knows nothing of print. */
function simpleFinder(least: number): Finder {
  const find = (picture: Picture): Finding => {
    const { width, height, data } = picture;
    const seen = new Uint8Array(width * height);
    const dark = (k: number) => data[3 * k]! + data[3 * k + 1]! + data[3 * k + 2]! < 3 * (215 - 255 * least);
    const particles: Particle[] = [];
    for (let start = 0; start < seen.length; start++) {
      if (seen[start] || !dark(start)) continue;
      const patch = [start];
      seen[start] = 1;
      for (let n = 0; n < patch.length; n++) {
        const k = patch[n]!;
        for (const next of [k - 1, k + 1, k - width, k + width]) {
          if (next < 0 || next >= seen.length || seen[next] || !dark(next)) continue;
          seen[next] = 1;
          patch.push(next);
        }
      }
      if (patch.length < 6) continue;
      const xs = patch.map((k) => k % width);
      const ys = patch.map((k) => Math.floor(k / width));
      const mean = (v: number[]) => v.reduce((s, x) => s + x, 0) / v.length + 0.5;
      const feret = Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
      particles.push({
        centroidPx: [mean(xs), mean(ys)],
        feretMaxPx: feret,
        outlinePx: [],
      } as unknown as Particle);
    }
    const scale = {
      umPerPx: umPerPx(5),
      relativeUncertainty: 0,
      basis: 'given',
      pitch: null,
      rotationDeg: null,
      squares: null,
    } as const;
    return {
      method: 'simple',
      version: '0',
      scale,
      grid: [],
      refusal: null,
      warnings: [],
      particles,
      searchedFraction: fraction(1),
      floorPx: 1,
    };
  };
  return { method: 'simple', version: '0', find };
}

const design: Design = {
  ...USUAL_DESIGN,
  sizesUm: [20, 40, 80, 160],
  shapes: ['fragment', 'bead'],
  contrasts: [
    { name: 'plain', change: 0.6 },
    { name: 'faint', change: 0.03 },
  ],
  each: 10,
  blurPx: 1,
};

describe('drawing known pieces into controls', () => {
  it('draws every piece once, apart from each other and from what is there, and leaves the original alone', () => {
    const picture = control(1);
    const before = picture.data.slice();
    const chance = chanceFrom(2);
    const ground = { picture, umPerPx: 5, edge: null, particles: [], blurPx: 1, fibreWidthUm: 15 };
    const wanted = piecesOf(design, chance);
    const drawn = drawInto(ground, wanted, 40, chance);
    expect(picture.data).toEqual(before);
    expect(drawn.truth.length).toBe(40);
    expect(drawn.truth.length + drawn.left.length).toBe(wanted.length);
    drawn.truth.forEach((a, i) => {
      for (const b of drawn.truth.slice(i + 1)) {
        const d = Math.hypot(a.centrePx[0] - b.centrePx[0], a.centrePx[1] - b.centrePx[1]);
        expect(d).toBeGreaterThan((a.feretPx + b.feretPx) / 2);
      }
    });
  });

  it('matches each particle to one piece only', () => {
    const truth = [
      { shape: 'bead', sizeUm: 50, contrast: design.contrasts[0]!, centrePx: [50, 50], feretPx: 10 },
      { shape: 'bead', sizeUm: 50, contrast: design.contrasts[0]!, centrePx: [53, 50], feretPx: 10 },
    ] as const;
    const particle = { centroidPx: [50.5, 50], feretMaxPx: 10 } as unknown as Particle;
    expect(foundOf(truth, [particle])).toEqual([true, false]);
    const tooLarge = { centroidPx: [50, 50], feretMaxPx: 30 } as unknown as Particle;
    expect(foundOf(truth, [tooLarge])).toEqual([false, false]);
  });
});

describe('completeness', () => {
  const named = (picture: Picture, i: number) => ({ name: `blank ${i}`, open: () => picture });
  const printed = [control(1), control(2)].map(named);
  const photos = [1, 2]
    .map((seed) =>
      drawGrid({ width: 640, height: 480, seed, pitchPx: null, noise: 0.004, grain: 0.004, shade: 0.02 }),
    )
    .map(named);

  it('finds plain large pieces, misses faint ones, and says where the floor lies', () => {
    const out = completenessOf(photos, simpleFinder(0.25), wish, design);
    if (!out.ok) throw new Error(out.refusal.message);
    const { cells, floors, drawn, notDrawn } = out.value;
    expect(drawn + notDrawn).toBe(2 * 4 * 2 * 10);
    expect(notDrawn).toBe(0);
    const share = (contrast: string, sizeUm: number) => {
      const own = cells.filter((c) => c.contrast === contrast && c.sizeUm === sizeUm);
      return own.reduce((s, c) => s + c.found, 0) / own.reduce((s, c) => s + c.drawn, 0);
    };
    expect(share('plain', 160)).toBeGreaterThan(0.6);
    expect(share('plain', 20)).toBeLessThan(share('plain', 160));
    expect(share('faint', 160)).toBe(0);
    const faint = floors.find((f) => f.shape === 'all' && f.contrast === 'faint')!;
    expect(faint.half.sizeUm).toBeNull();
    expect(faint.half.because).not.toBeNull();
  });

  it('is the same for the same seed, and another for another', () => {
    const run = (seed: number) => completenessOf(photos, simpleFinder(0.25), wish, { ...design, seed });
    expect(run(5)).toEqual(run(5));
    expect(run(6)).not.toEqual(run(5));
  });

  it('tells progress and can be stopped between steps', () => {
    const steps = completenessSteps(photos, simpleFinder(0.25), wish, design);
    const first = steps.next();
    expect(first.done).toBe(false);
    if (!first.done) expect(first.value.done).toBeLessThan(first.value.total);
    expect(steps.return(undefined as never).done).toBe(true);
  });

  it('refuses controls without a scale', () => {
    const blind: Finder = {
      ...simpleFinder(0.25),
      find: (p) => ({ ...simpleFinder(0.25).find(p, wish), scale: null }),
    };
    const out = completenessOf(photos, blind, wish, design);
    expect(out.ok ? '' : out.refusal.why).toBe('no-scale');
  });

  it('refuses a design that draws nothing', () => {
    expect(() => completenessOf(photos, simpleFinder(0.25), wish, { ...design, sizesUm: [] })).toThrow(
      RangeError,
    );
    expect(() => completenessOf([], simpleFinder(0.25), wish, design)).toThrow(RangeError);
  });

  it('runs with the real finder on a printed control', () => {
    const small: Design = {
      ...design,
      sizesUm: [40, 300],
      shapes: ['fragment'],
      contrasts: [design.contrasts[0]!],
      each: 6,
    };
    const real: FindWish = { ...wish, scale: { from: 'printed-grid', pitch: mm(1.05) }, smallest: um(20) };
    const out = completenessOf(printed, classicalFinder, real, small);
    if (!out.ok) throw new Error(out.refusal.message);
    const large = out.value.cells.find((c) => c.sizeUm === 300)!;
    expect(large.found).toBeGreaterThanOrEqual(5);
    expect(out.value.method).toBe(classicalFinder.method);
  });
});
