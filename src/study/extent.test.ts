import { describe, expect, it } from 'vitest';
import { CYLINDER, DIAMETER_MM, extentOf, type FilterExtent, passedOf } from './extent.ts';
import type { Filter } from './records/filter.ts';

const filter = (pitchMm: number | null = 3.1, examinedStated: number | null = null): Filter =>
  ({ effectiveDiameterMm: 40, pitchMm, examinedStated }) as unknown as Filter;
const DISC = (Math.PI / 4) * 1600;
const part = (share: number, over: Partial<FilterExtent> = {}): FilterExtent => ({
  filter: filter(),
  searchedMm2: share * DISC,
  count: 0,
  squares: { holding: 0, totalOfSquares: 0 },
  scale: 0.01,
  ...over,
});

describe('what passed', () => {
  it('is known exactly where nothing was left', () => {
    expect(passedOf(200, 0, null)).toEqual({ share: 1, uncertainty: 0 });
  });

  // by hand, GUM 5.1.2: (1 − 0.75) · √(1 %² + 1 %²), both volumes above 50 mL
  it('is less well known the more was left', () => {
    const { share, uncertainty } = passedOf(150, 50, null)!;
    expect(share).toBe(0.75);
    expect(uncertainty / share).toBeCloseTo(0.25 * Math.SQRT2 * CYLINDER.share, 12);
  });

  it('rests on what went in where some of it vanished', () => {
    const { share, uncertainty } = passedOf(150, 0, 200)!;
    expect(share).toBe(0.75);
    expect(uncertainty / share).toBeCloseTo(Math.SQRT2 * CYLINDER.share, 12);
  });
});

describe('how well what was looked at is known', () => {
  it('is exact where the whole filter was photographed and all of it passed', () => {
    const whole = extentOf({ share: 1, uncertainty: 0 }, [part(1, { count: 20 })]);
    expect(whole).toEqual({ passed: 0, photographed: 0, counted: 0, together: 0 });
  });

  it('takes the diameter and the scale of the photographs, twice each for an area', () => {
    const { photographed, counted } = extentOf(null, [part(0.5)]);
    expect(photographed).toBeCloseTo(2 * Math.hypot(DIAMETER_MM / 40, 0.01), 12);
    expect(counted).toBeNull();
  });

  it('knows no area where somebody states the share', () => {
    expect(extentOf(null, [part(0.5, { filter: filter(3.1, 0.5) })]).photographed).toBeNull();
  });

  // by hand: 130.8 squares, a quarter is 33; 20 pieces on one square and none on 32
  it('is the less the more the pieces crowd', () => {
    const crowded = part(0.25, { count: 20, squares: { holding: 1, totalOfSquares: 400 } });
    const even = part(0.25, { count: 20, squares: { holding: 20, totalOfSquares: 20 } });
    const mean = 20 / 33;
    const variance = ((20 - mean) ** 2 + 32 * mean ** 2) / 32;
    const variation = Math.sqrt(variance - mean) / mean;
    expect(extentOf(null, [crowded]).counted).toBeCloseTo(
      variation * Math.sqrt((1 - 33 / (DISC / 3.1 ** 2)) / 33),
      9,
    );
    expect(extentOf(null, [even]).counted).toBe(0);
    expect(extentOf(null, [part(0.25, { count: 4 })]).counted).toBeNull();
  });

  it('joins all parts in squares, and filters by their searched area', () => {
    const passed = { share: 0.5, uncertainty: 0.05 };
    const one = extentOf(passed, [part(0.5)]);
    expect(one.together).toBeCloseTo(Math.hypot(0.1, one.photographed!), 12);
    const two = extentOf(passed, [part(0.5), part(1)]);
    expect(two.photographed).toBeCloseTo((0.5 * one.photographed!) / 1.5, 12);
  });

  it('says nothing of a share that passed where none is recorded', () => {
    expect(extentOf(null, [part(1)]).passed).toBeNull();
    expect(extentOf({ share: 0, uncertainty: 0 }, [part(1)]).passed).toBeNull();
  });
});
