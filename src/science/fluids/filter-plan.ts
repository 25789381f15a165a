import type { BlockingLaw } from './blocking-laws.ts';
import { lawOf } from './blocking-laws.ts';
import { discDiameter } from './filter-load.ts';
import { type Band, type FlowForecast, FULL_AT_FLOW } from './flow-forecast.ts';
import { type TimeForecast, timeToVolume } from './time-forecast.ts';

/** What is to be filtered, and on what. */
export interface FilterWish {
  /** All of the liquid of the run, mL as it is poured; null: not said. */
  readonly totalMl: number | null;
  /** Wetted area of one filter, cm²; null: not said. */
  readonly areaCm2: number | null;
  readonly poreUm: number | null;
  /** Smallest piece that the question asks for, µm. */
  readonly smallestUm: number | null;
  /** How many times the liquid was diluted; 1 for not at all. */
  readonly diluted: number;
}

export const NO_WISH: FilterWish = {
  totalMl: null,
  areaCm2: null,
  poreUm: null,
  smallestUm: null,
  diluted: 1,
};

export type AdviceKind =
  | 'go-on'
  | 'stop-here'
  | 'more-marks'
  | 'several-filters'
  | 'wider-disc'
  | 'settle-or-digest'
  | 'coarser-pore'
  | 'dilution'
  | 'remainder'
  | 'no-law';

export interface Advice {
  readonly kind: AdviceKind;
  readonly message: string;
}

export interface FilterPlan {
  /** Volume to pour on one filter; null where no ceiling is in sight and none is needed. */
  readonly perFilterMl: number | null;
  /** Filters for the whole liquid, the one in use counted; null where the volume was not said. */
  readonly filters: number | null;
  /** Share of the liquid that has passed by the last mark; null where the volume was not said. */
  readonly passed: number | null;
  /** When the target has passed on one filter. */
  readonly target: TimeForecast | null;
  /** Area of one filter that would take it all, cm²; null where areas or volume were not said or one filter is enough. */
  readonly oneFilterAreaCm2: number | null;
  readonly advice: readonly Advice[];
}

/** A filter is planned to this share of its capacity at most. Common practice (50–70 %), no source. */
const PLANNED_SHARE = 0.7;
/** Below this share of the starting flow the rest is slow and pulls soft pieces into the pores. Common practice, no source. */
const SLOW = 0.2;

const round = (n: number): string => String(Number(n.toPrecision(n >= 100 ? 3 : 2)));

/** Volume for one filter: 70 % of the likely capacity, and never more than the low end of its band. */
export const plannedVolume = (capacity: Band): number =>
  Math.min(PLANNED_SHARE * capacity.value, capacity.lower);

/** What follows from a forecast: where to stop, how many filters, and what else would help or would not. */
export function planFiltration(forecast: FlowForecast, wish: FilterWish): FilterPlan {
  checkWish(wish);
  const { totalMl, areaCm2 } = wish;
  const capacity = forecast.capacityMl;
  const last = forecast.marks[forecast.marks.length - 1]!.volumeMl;
  const perFilter = plannedVolume(capacity);
  const enough = totalMl !== null && totalMl <= perFilter;
  const filters = totalMl === null ? null : enough ? 1 : filtersFor(totalMl, last, perFilter);
  const oneFilterAreaCm2 =
    totalMl === null || areaCm2 === null || enough ? null : (areaCm2 * totalMl) / perFilter;
  return {
    perFilterMl: capacity.upper === null && enough ? null : perFilter,
    filters,
    passed: totalMl === null ? null : Math.min(1, last / totalMl),
    target: totalMl === null ? null : timeToVolume(forecast, totalMl),
    oneFilterAreaCm2,
    advice: [...adviceOf(forecast, wish, { last, perFilter, filters, oneFilterAreaCm2 })],
  };
}

/** The one in use takes what it has taken, or what is planned if that is more; the others what is planned. */
const filtersFor = (totalMl: number, lastMl: number, perFilter: number): number =>
  1 + Math.max(0, Math.ceil((totalMl - Math.max(lastMl, perFilter)) / perFilter - 1e-9));

interface Reckoned {
  readonly last: number;
  readonly perFilter: number;
  readonly filters: number | null;
  readonly oneFilterAreaCm2: number | null;
}

function* adviceOf(forecast: FlowForecast, wish: FilterWish, r: Reckoned): Generator<Advice> {
  const { totalMl, areaCm2 } = wish;
  const flow = forecast.flowNow.value;
  const capacity = forecast.capacityMl;
  const full = flow <= FULL_AT_FLOW * 1.3 || r.last >= capacity.value;
  const spent = full || flow <= SLOW || r.last >= r.perFilter;
  const left = totalMl === null ? null : Math.max(0, totalMl - r.last);
  const enough = totalMl !== null && totalMl <= r.perFilter;
  if (forecast.followsNoLaw) {
    yield say(
      'no-law',
      'None of the four laws follows these marks within a tenth: look whether the vacuum changed, the funnel was topped up or the liquid settled. Take the figures as a rough guide.',
    );
  }
  if (left === 0) {
    yield say(
      'go-on',
      'All of the liquid has passed: rinse vessel and funnel, and record 1 as the share that passed.',
    );
    return;
  }
  if (enough) {
    yield say('go-on', `One filter is enough for the ${round(totalMl)} mL.`);
  } else if (spent) {
    yield say(
      'stop-here',
      `Stop here: the flow is down to ${percent(flow)} of its start${full ? ' and the filter is as good as full' : ''}. More vacuum packs soft pieces into the pores and can break glass; never scrape the filter.`,
    );
  } else {
    yield say('go-on', `Go on to about ${round(r.perFilter)} mL on this filter, then change it.`);
  }
  if (capacity.upper === null || capacity.upper / capacity.lower > 2) {
    yield say(
      'more-marks',
      capacity.upper === null
        ? 'No ceiling is in sight yet: make further marks, the figures narrow with each.'
        : 'The band is still wide: two or three further marks narrow it.',
    );
  }
  if (r.filters !== null && r.filters > 1) {
    yield say(
      'several-filters',
      `Use ${r.filters} filters for the ${round(totalMl!)} mL, about ${round(r.perFilter)} mL on each, stirred well before every pour; each control needs as many.`,
    );
  }
  if (r.oneFilterAreaCm2 !== null && areaCm2 !== null) {
    yield say(
      'wider-disc',
      `Or one wider disc: ${round(r.oneFilterAreaCm2)} cm² wetted (${round(discDiameter(r.oneFilterAreaCm2))} mm across) instead of ${round(areaCm2)} cm² would take it all at the same load.`,
    );
  }
  if (!enough && (totalMl !== null || spent)) yield say('settle-or-digest', remedy(forecast.named));
  if (!enough && wish.poreUm !== null) yield coarserPore(wish.poreUm, wish.smallestUm);
  if (wish.diluted > 1) {
    yield say(
      'dilution',
      `Diluting ${round(wish.diluted)}-fold adds volume and not capacity: ${round(r.perFilter)} mL on a filter are ${round(r.perFilter / wish.diluted)} mL of the liquid as it was, and the number of filters stays the same.`,
    );
  }
  if (left !== null && left > 0 && spent && !enough) {
    yield say(
      'remainder',
      `If no more is filtered, ${percent(r.last / totalMl!)} of the liquid has passed: enter ${(r.last / totalMl!).toFixed(3)} as the share that passed, and keep the other ${round(left)} mL, labelled with their place. They are not measured, which is not none.`,
    );
  }
}

const say = (kind: AdviceKind, message: string): Advice => ({ kind, message });
const percent = (share: number): string => {
  const hundred = 100 * share;
  return hundred < 1 ? 'under 1 %' : `${Math.round(hundred)} %`;
};

function remedy(named: BlockingLaw | null): string {
  const means = named === null ? null : lawOf(named).means;
  if (named === 'cake')
    return `Here ${means}: let the liquid settle and pour the upper part first, or digest it; filter the sediment apart, as a fraction of its own.`;
  if (named === null)
    return 'The laws cannot be told apart yet; settling (coarse matter) or digesting (soft, fine matter) before filtering both help, if the controls go through the same.';
  return `Here ${means}: soft or fine matter does that, and settling will not take it out; digest it (again) or filter warm, the controls likewise.`;
}

/** A filter keeps pieces well from two to five times its pore on. Common practice (pore at 0.2–0.5 of the smallest size), no source. */
function coarserPore(poreUm: number, smallestUm: number | null): Advice {
  const floor = `A coarser pore costs size: a filter keeps pieces well only from about 2 to 5 times its pore on, so ${round(2 * poreUm)} µm pores would move the size floor to ${round(4 * poreUm)}–${round(10 * poreUm)} µm; fibres slip through lengthways below that.`;
  if (smallestUm === null) return say('coarser-pore', floor);
  const coarsest = smallestUm / 2;
  return say(
    'coarser-pore',
    coarsest > poreUm * 1.05
      ? `A coarser pore is open to you: for pieces from ${round(smallestUm)} µm up, at most ${round(coarsest)} µm. ${floor}`
      : `A coarser pore is not open to you: pieces from ${round(smallestUm)} µm up need a pore of ${round(coarsest)} µm or finer. ${floor}`,
  );
}

function checkWish(wish: FilterWish): void {
  for (const [what, value] of Object.entries(wish)) {
    if (value !== null && !(value > 0 && value < Infinity))
      throw new RangeError(`${what}: a number above 0 is needed, given ${value}`);
  }
}
