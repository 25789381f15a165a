/** How well it is known what share of a run was looked at: passed × photographed × counted, each with its own uncertainty. */
import {
  productOf,
  shareBesideRest,
  shareOf,
  shareOfSquares,
  type UncertainShare,
  variationBetween,
} from '../science/counting/index.ts';
import type { Filter } from './records/filter.ts';

/** Relative standard uncertainties of what was looked at of a run. Null: there is nothing to tell it from. */
export interface Extent {
  /** Of the share that passed, from the volumes; null: they are not recorded. */
  readonly passed: number | null;
  /** Of the area photographed, from the disc's diameter and the scale; 0 where the whole disc was. */
  readonly photographed: number | null;
  /** Of what was counted there, from how unevenly pieces lie over the squares; 0 where the whole disc was. */
  readonly counted: number | null;
  /** All that is known of them, added in squares. */
  readonly together: number;
}

/** Standard uncertainty of a volume read from a cylinder: this share of it, or so many mL. Common practice, no source. */
export const CYLINDER = { share: 0.01, ml: 0.5 } as const;
/** Standard uncertainty of a wetted diameter read with a ruler, mm. Common practice, no source. */
export const DIAMETER_MM = 0.3;
/** A share examined above this leaves nothing to speak of. Project choice. */
const NEARLY_ALL = 0.98;
/** With fewer pieces how they lie says nothing. Project choice. */
const FEWEST_PIECES = 5;
/** Beyond this a share is hardly known at all; the model takes it so. Project choice. */
const MOST = 0.9;

const ofVolume = (ml: number) => ({ value: ml, uncertainty: Math.max(CYLINDER.ml, CYLINDER.share * ml) });

/** Share of the liquid that passed, from what passed, what did not, and what went in where more did than both account for. */
export function passedOf(throughMl: number, restMl: number, inMl: number | null): UncertainShare | null {
  const found =
    inMl === null
      ? shareBesideRest(ofVolume(throughMl), ofVolume(restMl))
      : shareOf(ofVolume(throughMl), ofVolume(inMl));
  return found.ok ? found.value : null;
}

/** How the counted pieces of one filter lie over its squares. */
export interface SquaresSeen {
  /** Squares with at least one counted piece; pieces outside every square lie on one more. */
  readonly holding: number;
  readonly totalOfSquares: number;
}

/** One filter of a run: the part of it that was searched, and what lay there. */
export interface FilterExtent {
  readonly filter: Filter;
  readonly searchedMm2: number;
  readonly count: number;
  readonly squares: SquaresSeen | null;
  /** Relative standard uncertainty of the scale, the worst of its photographs; null: none has one. */
  readonly scale: number | null;
}

const discMm2 = ({ effectiveDiameterMm }: Filter): number => (Math.PI / 4) * effectiveDiameterMm ** 2;

function areaOf({ filter, searchedMm2, scale }: FilterExtent): number | null {
  if (searchedMm2 >= NEARLY_ALL * discMm2(filter)) return 0;
  if (filter.examinedStated !== null) return null;
  return 2 * Math.hypot(DIAMETER_MM / filter.effectiveDiameterMm, scale ?? 0);
}

function squaresOf({ filter, searchedMm2, count, squares }: FilterExtent): number | null {
  if (searchedMm2 >= NEARLY_ALL * discMm2(filter)) return 0;
  if (!filter.pitchMm || squares === null || count < FEWEST_PIECES) return null;
  const all = discMm2(filter) / filter.pitchMm ** 2;
  const looked = Math.round(searchedMm2 / filter.pitchMm ** 2);
  if (looked < 2 || squares.holding > looked) return null;
  const variation = variationBetween({
    squares: looked,
    total: count,
    totalOfSquares: squares.totalOfSquares,
  });
  const share = shareOfSquares(looked, Math.max(looked, all), variation);
  return share.ok ? share.value.uncertainty / share.value.share : null;
}

/** Filters of one run together, each weighing as its searched area; null where none of them tells it. */
function overFilters(
  filters: readonly FilterExtent[],
  of: (filter: FilterExtent) => number | null,
): number | null {
  const searched = filters.reduce((sum, filter) => sum + filter.searchedMm2, 0);
  const known = filters.map((filter) => of(filter));
  if (!(searched > 0) || known.every((one) => one === null)) return null;
  return Math.hypot(...filters.map(({ searchedMm2 }, at) => searchedMm2 * (known[at] ?? 0))) / searched;
}

/** Passed × photographed × counted of one run; `passed` null: the volumes are not recorded. */
export function extentOf(passed: UncertainShare | null, filters: readonly FilterExtent[]): Extent {
  const photographed = overFilters(filters, areaOf);
  const counted = overFilters(filters, squaresOf);
  const relative = (share: number | null): UncertainShare => ({ share: 1, uncertainty: share ?? 0 });
  const known = passed !== null && passed.share > 0 ? passed : null;
  const parts = [known ?? relative(null), relative(photographed), relative(counted)];
  return {
    passed: known && known.uncertainty / known.share,
    photographed,
    counted,
    together: Math.min(MOST, productOf(parts).relative),
  };
}
