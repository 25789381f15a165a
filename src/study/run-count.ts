/**
 * What a run counts: the particles on its filters, and what share of its liquid and of its filters they stand for.
 * Three zeros stay three: a count of 0 is none seen; null is not looked; sizes below the floor could not have been seen.
 */
import type { UncertainShare } from '../science/counting/index.ts';
import { VOLUMES_AGREE } from './bench-record/balance.ts';
import { type Extent, extentOf, passedOf, type SquaresSeen } from './extent.ts';
import type { Filter, FilterId } from './records/filter.ts';
import type { Run, RunFraction } from './records/run.ts';

/** What was looked at and found on one filter; count is null where nothing was searched. */
export interface FilterSeen {
  readonly filter: FilterId;
  readonly photos: number;
  readonly searched: number;
  readonly searchedMm2: number;
  readonly floorUm: number | null;
  readonly count: number | null;
  readonly kept: number;
  readonly unmarked: number;
  readonly dropped: number;
  /** How the counted pieces lie over the printed squares; null: nothing was searched. */
  readonly squares: SquaresSeen | null;
  /** Relative standard uncertainty of the scale, the worst of its photographs; null: none has one. */
  readonly scaleUncertainty: number | null;
}

export interface RunCount {
  readonly run: Run;
  /** Kept and not yet marked, in scope, on all filters looked at; null: not looked. */
  readonly count: number | null;
  readonly kept: number;
  readonly unmarked: number;
  readonly dropped: number;
  /** Share of the run's liquid whose filters were looked at; null: nobody recorded the liquid, or nothing was looked at. */
  readonly passed: number | null;
  /** Share of the area of those filters that was searched; null: not looked. */
  readonly examined: number | null;
  /** How well both are known; null: not looked. */
  readonly extent: Extent | null;
  /** Below this size nothing could have been seen on at least one of its filters. */
  readonly floorUm: number | null;
  /** More was searched than there is: photographs overlap, and pieces may be counted twice. */
  readonly overlap: boolean;
}

const discMm2 = (filter: Filter): number => (Math.PI / 4) * filter.effectiveDiameterMm ** 2;
const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

/** Photographs of one disc may overhang it and each other a little; common practice, no source. */
const OVERLAP = 1.05;

export function countRun(
  run: Run,
  filters: readonly Filter[],
  seen: ReadonlyMap<FilterId, FilterSeen>,
  fractions: readonly RunFraction[],
  pouredMl: number | null = null,
): RunCount {
  const looked = filters.filter((filter) => (seen.get(filter.id)?.searched ?? 0) > 0);
  const of = (field: 'kept' | 'unmarked' | 'dropped') =>
    sum(looked.map((filter) => seen.get(filter.id)![field]));
  const floors = looked.flatMap((filter) => seen.get(filter.id)!.floorUm ?? []);
  // A filter that names its liquid and was not looked at takes that liquid out of what passed; one that names none
  // shares the liquid, so that its area counts as not searched.
  const sharing = filters.filter((filter) => looked.includes(filter) || filter.fraction === null);
  const areas = sharing.map(discMm2);
  const searched = sharing.map((filter) => {
    if (!looked.includes(filter)) return 0;
    const disc = discMm2(filter);
    return filter.examinedStated === null
      ? Math.min(disc, seen.get(filter.id)!.searchedMm2)
      : filter.examinedStated * disc;
  });
  const anyLooked = looked.length > 0;
  const passed = anyLooked ? passedShare(filters, looked, fractions, pouredMl) : null;
  return {
    run,
    count: anyLooked ? sum(looked.map((filter) => seen.get(filter.id)!.count ?? 0)) : null,
    kept: of('kept'),
    unmarked: of('unmarked'),
    dropped: of('dropped'),
    passed: passed?.share ?? null,
    examined: anyLooked ? Math.min(1, sum(searched) / sum(areas)) : null,
    extent: anyLooked
      ? extentOf(
          passed,
          looked.map((filter) => {
            const { count, squares, scaleUncertainty } = seen.get(filter.id)!;
            const searchedMm2 = searched[sharing.indexOf(filter)]!;
            return { filter, searchedMm2, count: count ?? 0, squares, scale: scaleUncertainty };
          }),
        )
      : null,
    floorUm: floors.length > 0 ? Math.max(...floors) : null,
    overlap: looked.some((filter) => {
      const what = seen.get(filter.id)!;
      return what.searched > 1 && what.searchedMm2 > OVERLAP * discMm2(filter);
    }),
  };
}

/**
 * Volume that went through filters looked at, of all that the run split into; where more was measured in than the fractions
 * account for, of what went in: what vanished was not looked at. Rinses count only where they were filtered.
 */
function passedShare(
  filters: readonly Filter[],
  looked: readonly Filter[],
  fractions: readonly RunFraction[],
  pouredMl: number | null,
): UncertainShare | null {
  const named = new Set(filters.map((filter) => filter.fraction).filter((id) => id !== null));
  const namedLooked = new Set(looked.map((filter) => filter.fraction).filter((id) => id !== null));
  const shared = looked.some((filter) => filter.fraction === null);
  const through = fractions.filter((fraction) =>
    named.has(fraction.id) ? namedLooked.has(fraction.id) : shared && fraction.kind === 'passed',
  );
  const whole = fractions.filter((fraction) => fraction.kind !== 'rinse' || named.has(fraction.id));
  const out = sum(whole.map((fraction) => fraction.volumeMl));
  if (!(out > 0)) return null;
  const went = sum(through.map((fraction) => fraction.volumeMl));
  const inMl = pouredMl !== null && pouredMl > out && !volumesAgree(out, pouredMl) ? pouredMl : null;
  // nothing of it went through a filter that was looked at: a share of none, not one that is unknown
  return passedOf(went, out - went, inMl) ?? { share: 0, uncertainty: 0 };
}

/** Read from cylinders, the two agree; then nothing is missing. */
const volumesAgree = (out: number, poured: number | null): boolean =>
  poured === null || Math.abs(poured - out) <= Math.max(VOLUMES_AGREE.ml, VOLUMES_AGREE.share * poured);
