import { describe, expect, it } from 'vitest';
import { um } from '../../units/index.ts';
import { chanceFrom, drawPoisson } from '../maths/index.ts';
import {
  bandsOf,
  type CategoryCount,
  type CategoryDesign,
  couldNotBeSeen,
  counted,
  intoBands,
  joinSums,
  netByCategory,
  notLooked,
  productOf,
  SIZE_BANDS,
  SMALL_CELL,
  seenInWords,
  shareBesideRest,
  shareOf,
  shareOfSquares,
  sumSeen,
  variationBetween,
} from './index.ts';

const design: CategoryDesign = {
  gramEffort: 1,
  specimenEffort: 1,
  controlEffort: 3,
  confidence: 0.95,
  shares: [],
};

describe('net by category', () => {
  it('makes no particles out of nothing: clipping would add 5.4 (12 cells of mean 1, three blanks, no release)', () => {
    const chance = chanceFrom(71);
    const studies = 1500;
    const worked = 60;
    let clipped = 0;
    let ours = 0;
    for (let i = 0; i < studies; i++) {
      const cells: CategoryCount[] = Array.from({ length: 12 }, (_, c) => ({
        path: [c < 6 ? 'fibre' : 'fragment', `colour ${c}`],
        specimens: drawPoisson(chance, 1),
        controls: drawPoisson(chance, 3),
      }));
      clipped += cells.reduce((sum, cell) => sum + Math.max(0, cell.specimens - cell.controls / 3), 0);
      ours += cells.reduce((sum, cell) => sum + cell.specimens - cell.controls / 3, 0);
      if (i >= worked) continue;
      const table = netByCategory(cells, design);
      const added = table.rows.reduce((sum, row) => sum + row.net, 0);
      expect(added).toBeCloseTo(table.total.net, 9);
      expect(added).toBeCloseTo(
        cells.reduce((sum, cell) => sum + cell.specimens - cell.controls / 3, 0),
        9,
      );
    }
    // standard deviations of one study's sums are about 2.9 and 4
    expect(Math.abs(clipped / studies - 5.4)).toBeLessThan((4 * 2.9) / Math.sqrt(studies));
    expect(Math.abs(ours / studies)).toBeLessThan((4 * 4) / Math.sqrt(studies));
  });

  it('pools small cells with their kin and loses none', () => {
    const table = netByCategory(
      [
        { path: ['fibre', 'blue', 'small'], specimens: 20, controls: 3 },
        { path: ['fibre', 'blue', 'large'], specimens: 1, controls: 0 },
        { path: ['fibre', 'red', 'small'], specimens: 2, controls: 1 },
        { path: ['fibre', 'red', 'large'], specimens: 1, controls: 2 },
        { path: ['film', 'clear', 'small'], specimens: 1, controls: 0 },
      ],
      design,
    );
    const named = table.rows.map((row) => ({
      path: row.path.join(' · '),
      specimens: row.specimens,
      cells: row.cells.length,
    }));
    expect(named).toContainEqual({ path: 'fibre · blue · small', specimens: 20, cells: 1 });
    expect(named).toContainEqual({ path: 'fibre · red', specimens: 3, cells: 2 });
    expect(table.rows.flatMap((row) => row.cells)).toHaveLength(5);
    expect(table.rows.reduce((sum, row) => sum + row.specimens, 0)).toBe(25);
  });

  it('shows a negative cell as one, and its interval reaches below 0', () => {
    const table = netByCategory([{ path: ['fibre'], specimens: 2, controls: 30 }], design);
    expect(table.rows[0]).toMatchObject({ negative: true, net: -8 });
    expect(table.rows[0]!.perGram.lower).toBeLessThan(-8);
  });

  it('keeps a cell of the smallest shown size alone', () => {
    const cells = [
      { path: ['a'], specimens: SMALL_CELL, controls: 0 },
      { path: ['b'], specimens: SMALL_CELL - 1, controls: 0 },
      { path: ['c'], specimens: 1, controls: 0 },
    ];
    expect(
      netByCategory(cells, design)
        .rows.map((row) => row.cells.length)
        .sort(),
    ).toEqual([1, 2]);
    expect(() => netByCategory([], design)).toThrow(/at least one cell/);
  });
});

describe('size bands', () => {
  const particles = [3, 20, 49.9, 50, 120, 5000, 6000].map((sizeUm) => ({
    sizeUm: um(sizeUm),
    fibre: false,
  }));

  it.each(SIZE_BANDS.map((bands) => bands.id))(
    '%s: every particle falls in one band, below or above',
    (id) => {
      const found = intoBands(particles, bandsOf(id), null);
      const inside = found.bands.reduce(
        (sum, band) => sum + (band.seen.kind === 'counted' ? band.seen.count : 0),
        0,
      );
      expect(inside + found.below + found.above).toBe(particles.length);
    },
  );

  it('(EU) 2024/1441 takes 20 µm in, and fibres up to 15 mm', () => {
    const eu = bandsOf('eu-2024-1441');
    const found = intoBands(
      [{ sizeUm: 12_000, fibre: true }, { sizeUm: 12_000, fibre: false }, ...particles],
      eu,
      null,
    );
    expect(found.bands.map((b) => (b.seen.kind === 'counted' ? b.seen.count : -1))).toEqual([2, 1, 1, 0, 2]);
    expect(found).toMatchObject({ below: 1, above: 2 });
  });

  it('tells a band that could not be seen from one where none was seen', () => {
    const found = intoBands(particles.slice(4), bandsOf('eu-2024-1441'), 80);
    expect(found.bands.map((b) => b.seen.kind)).toEqual([
      'could-not-be-seen',
      'counted',
      'counted',
      'counted',
      'counted',
    ]);
    expect(found.bands[1]).toMatchObject({ partlyOutOfSight: true });
    expect(found.bands[3]!.seen).toEqual({ kind: 'counted', count: 0 });
  });

  it('says of every edge from memory that it is unverified', () => {
    for (const bands of SIZE_BANDS) expect(bands.source).toMatch(/unverified/);
  });
});

describe('three kinds of nothing', () => {
  it('stay apart through sums', () => {
    const sum = sumSeen([
      counted(0),
      counted(3),
      notLooked('square D4 not photographed'),
      couldNotBeSeen('below 80 µm'),
    ]);
    expect(sum).toEqual({
      parts: 4,
      counted: 2,
      count: 3,
      notLooked: ['square D4 not photographed'],
      outOfSight: ['below 80 µm'],
    });
    expect(seenInWords(sum)).toBe('3 in 2 of 4 parts');
    expect(seenInWords(sumSeen([counted(0), counted(0)]))).toBe('none seen');
    expect(seenInWords(sumSeen([notLooked('no photo')]))).toBe('not looked at');
    expect(seenInWords(sumSeen([couldNotBeSeen('too small')]))).toBe('could not be seen');
  });

  it('a sum of nothing looked at is not a count', () => {
    expect(sumSeen([notLooked('no photo')]).count).toBeNull();
    expect(sumSeen([]).count).toBeNull();
    expect(joinSums(sumSeen([notLooked('no photo')]), sumSeen([counted(2)]))).toMatchObject({
      count: 2,
      counted: 1,
      parts: 2,
    });
  });
});

describe('how much was looked at', () => {
  it('passed × photographed × counted, relative uncertainties in squares (GUM 5.1.2)', () => {
    const passed = shareOf({ value: 80, uncertainty: 1.6 }, { value: 100, uncertainty: 1 });
    if (!passed.ok) throw new Error(passed.refusal.message);
    expect(passed.value.share).toBeCloseTo(0.8, 12);
    expect(passed.value.uncertainty / 0.8).toBeCloseTo(Math.hypot(0.02, 0.01), 12);
    const all = productOf([passed.value, { share: 0.5, uncertainty: 0.02 }]);
    expect(all.share).toBeCloseTo(0.4, 12);
    expect(all.relative).toBeCloseTo(Math.sqrt(0.0005 + 0.0016), 12);
  });

  it('a sample of squares is uncertain by their unevenness, and not at all when all are counted', () => {
    const quarter = shareOfSquares(25, 100, 0.6);
    if (!quarter.ok) throw new Error(quarter.refusal.message);
    expect(quarter.value.uncertainty / quarter.value.share).toBeCloseTo(0.6 * Math.sqrt(0.75 / 25), 12);
    const all = shareOfSquares(100, 100, 0.6);
    expect(all.ok && all.value).toEqual({ share: 1, uncertainty: 0 });
    expect(variationBetween({ squares: 3, total: 6, totalOfSquares: 12 })).toBe(0);
    // counts 0, 8, 1, 12, 0, 3: mean 4, variance 122/5
    const uneven = { squares: 6, total: 24, totalOfSquares: 218 };
    expect(variationBetween(uneven)).toBeCloseTo(Math.sqrt(122 / 5 - 4) / 4, 12);
  });

  it('a share beside its rest is known the better the less is left (GUM 5.1.2)', () => {
    const share = shareBesideRest({ value: 150, uncertainty: 1.5 }, { value: 50, uncertainty: 0.5 });
    if (!share.ok) throw new Error(share.refusal.message);
    // by hand: f = a/(a + b), ∂f/∂a = b/(a + b)², ∂f/∂b = −a/(a + b)²
    expect(share.value.share).toBeCloseTo(0.75, 12);
    expect(share.value.uncertainty).toBeCloseTo(Math.hypot(50 * 1.5, 150 * 0.5) / 200 ** 2, 12);
    const all = shareBesideRest({ value: 150, uncertainty: 1.5 }, { value: 0, uncertainty: 0.5 });
    expect(all.ok && all.value).toEqual({ share: 1, uncertainty: 0 });
  });

  it('refuses what gives no share', () => {
    for (const [found, why] of [
      [shareOf({ value: 0, uncertainty: 1 }, { value: 100, uncertainty: 1 }), 'nothing-looked-at'],
      [shareOf({ value: 5, uncertainty: 1 }, { value: 0, uncertainty: 1 }), 'whole-missing'],
      [shareOf({ value: 120, uncertainty: 1 }, { value: 100, uncertainty: 1 }), 'part-above-whole'],
      [shareBesideRest({ value: 0, uncertainty: 1 }, { value: 5, uncertainty: 1 }), 'nothing-looked-at'],
      [shareOfSquares(0, 100, 0.5), 'nothing-looked-at'],
      [shareOfSquares(101, 100, 0.5), 'part-above-whole'],
    ] as const) {
      expect(!found.ok && found.refusal.why).toBe(why);
    }
  });
});
