import { describe, expect, it } from 'vitest';
import type { Filter, FilterId } from './records/filter.ts';
import type { Run, RunFraction } from './records/run.ts';
import { countRun, type FilterSeen } from './run-count.ts';

const run = { id: 'run' } as Run;
const filter = (id: string, fraction: string | null = null, examinedStated: number | null = null) =>
  ({ id, fraction, examinedStated, effectiveDiameterMm: 10 }) as unknown as Filter;
const liquid = (id: string, volumeMl: number, kind = 'passed') =>
  ({ id, volumeMl, kind }) as unknown as RunFraction;
/** A disc of 10 mm is 78.54 mm². */
const seen = (id: string, count: number | null, searchedMm2 = 78.54) =>
  ({
    filter: id,
    photos: 1,
    searched: count === null ? 0 : 1,
    searchedMm2: count === null ? 0 : searchedMm2,
    floorUm: count === null ? null : 40,
    count,
    kept: count ?? 0,
    unmarked: 0,
    dropped: 0,
  }) as unknown as FilterSeen;
const count = (
  filters: Filter[],
  looks: FilterSeen[],
  liquids: RunFraction[],
  poured: number | null = null,
) => countRun(run, filters, new Map(looks.map((look) => [look.filter as FilterId, look])), liquids, poured);

describe('what a run counts', () => {
  it('is null where nothing was looked at, and 0 where none was seen', () => {
    expect(count([filter('a')], [seen('a', null)], [liquid('l', 200)])).toMatchObject({
      count: null,
      passed: null,
      examined: null,
      floorUm: null,
    });
    expect(count([filter('a')], [seen('a', 0)], [liquid('l', 200)])).toMatchObject({
      count: 0,
      passed: 1,
      floorUm: 40,
    });
  });

  it('takes the liquid of a filter that could not be read out of what passed', () => {
    const clogged = count(
      [filter('first', 'l1'), filter('rest', 'l2')],
      [seen('first', null), seen('rest', 9)],
      [liquid('l1', 120), liquid('l2', 80)],
    );
    expect(clogged).toMatchObject({ count: 9, passed: 0.4 });
    expect(clogged.examined).toBeCloseTo(1, 4);
  });

  it('halves the share examined where one of two filters of one liquid was not looked at', () => {
    const half = count([filter('a'), filter('b')], [seen('a', 4), seen('b', null)], [liquid('l', 200)]);
    expect(half.passed).toBe(1);
    expect(half.examined).toBeCloseTo(0.5, 4);
  });

  it('counts a kept remainder against what passed, and a rinse not', () => {
    const kept = [liquid('l', 150), liquid('r', 50, 'remainder'), liquid('w', 30, 'rinse')];
    expect(count([filter('a')], [seen('a', 1)], kept).passed).toBe(0.75);
    expect(count([filter('a')], [seen('a', 1)], []).passed).toBeNull();
  });

  it('takes millilitres that vanished out of what passed, once what went in was measured', () => {
    const one = [filter('a')];
    expect(count(one, [seen('a', 1)], [liquid('l', 150)], 200).passed).toBe(0.75);
    expect(count(one, [seen('a', 1)], [liquid('l', 150), liquid('r', 50, 'remainder')], 200).passed).toBe(
      0.75,
    );
    // Read from cylinders, 196 and 200 mL agree; and more out than in is told by the balance, not by this share.
    expect(count(one, [seen('a', 1)], [liquid('l', 196)], 200).passed).toBe(1);
    expect(count(one, [seen('a', 1)], [liquid('l', 260)], 200).passed).toBe(1);
    expect(count(one, [seen('a', 1)], [], 200).passed).toBeNull();
  });

  it('believes the share that somebody states, and never more than the whole', () => {
    expect(count([filter('a', null, 0.25)], [seen('a', 1)], []).examined).toBe(0.25);
    expect(count([filter('a')], [seen('a', 1, 150)], []).examined).toBe(1);
  });
});
