/**
 * `retentate/flow/1`: what a few timed volumes say of a filtration, as a plain object with its units in the names.
 *
 * At the bench: call `flowReport({ marks })` after every tap (pure, no server, well under 50 ms) and draw it with
 * `flowCurve({ flow, width, name })` of the report room; `POST /api/flow` gives the same object. A mark is
 * { time_s, volume_ml }, both counted from the start of the flow. Fewer than three marks are a refusal that says so.
 */
import {
  type Band,
  type BlockingLaw,
  cakeLine,
  cakeResistance,
  type FilterPlan,
  type FilterWish,
  type FlowForecast,
  FULL_AT_FLOW,
  filterCover,
  forecastCurve,
  forecastFlow,
  lawOf,
  MOST_COVER,
  onAnotherArea,
  planFiltration,
  printedConstant,
} from '../../science/fluids/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

export interface FlowWish {
  readonly marks: readonly { readonly time_s: number; readonly volume_ml: number }[];
  /** All of the liquid to be filtered. */
  readonly total_ml?: number | null;
  /** Wetted area of the filter that the marks were made on. */
  readonly area_cm2?: number | null;
  /** Wetted area of the filter that will be used, where the marks come from a test disc. */
  readonly onto_cm2?: number | null;
  readonly pore_um?: number | null;
  /** Smallest piece that the question asks for. */
  readonly smallest_um?: number | null;
  /** How many times the liquid was diluted. */
  readonly diluted?: number;
  /** How many pieces are expected in all of the liquid, and how wide they are across; the smallest asked for where not said. */
  readonly pieces?: number | null;
  readonly piece_um?: number | null;
  /** Of the pump, and dry solids in the liquid: with the area they give the resistances of cake and membrane. */
  readonly pressure_kpa?: number | null;
  readonly solids_g_l?: number | null;
}

/** How many pieces one filter shows before they hide one another. */
export interface FlowLoad {
  readonly piece_um: number;
  readonly cover_at_most: number;
  readonly most_pieces: number;
  /** Of all the pieces expected, shared out over the filters planned; null: nobody said how many. */
  readonly share: number | null;
  readonly too_many: boolean;
  /** Filters that the pieces ask for; null: nobody said how many. */
  readonly filters: number | null;
}

/** By the textbook line of t/V on V, with the liquid as water of 20 °C; holds where the cake law does. */
export interface FlowResistance {
  readonly cake_m_per_kg: number | null;
  readonly membrane_per_m: number;
}

/** `upper` null: no ceiling is in sight (a volume), or more than one in twenty that it never comes (a time). */
export interface BandReport {
  readonly value: number;
  readonly lower: number;
  readonly upper: number | null;
  readonly confidence: number;
}

export interface FlowTime {
  readonly volume_ml: number;
  /** Probability that it passes before the flow is down to a tenth. */
  readonly chance_reached: number;
  /** Null: likelier than not it never passes. */
  readonly time_s: BandReport | null;
}

export interface FlowReport {
  readonly format: 'retentate/flow/1';
  readonly marks: readonly { readonly time_s: number; readonly volume_ml: number }[];
  /** Null: they cannot be told apart. */
  readonly law: BlockingLaw | null;
  readonly law_sentence: string;
  readonly laws: readonly {
    readonly law: BlockingLaw;
    readonly exponent: number;
    readonly probability: number;
    readonly start_flow_ml_per_min: number;
    readonly constant: number;
    readonly constant_unit: '1/s' | '1/mL' | 's/mL²';
    /** Null: the law has no end. */
    readonly last_volume_ml: number | null;
    /** Root mean square of the relative residuals of time. */
    readonly scatter: number;
  }[];
  readonly start_flow_ml_per_min: number;
  readonly flow_now_share: BandReport;
  /** Volume at which the flow has fallen to `capacity_at_flow_share` of its start. */
  readonly capacity_ml: BandReport;
  readonly capacity_at_flow_share: number;
  readonly follows_no_law: boolean;
  /** Times to volumes, from nothing to the end of the picture. */
  readonly curve: readonly FlowTime[];
  readonly total_ml: number | null;
  /** Share of the liquid that has passed by the last mark. */
  readonly passed: number | null;
  readonly target: FlowTime | null;
  /** Volume to pour on one filter. */
  readonly per_filter_ml: number | null;
  readonly filters: number | null;
  readonly one_filter_area_cm2: number | null;
  /** Null: neither area nor size of the pieces is said. */
  readonly load: FlowLoad | null;
  /** Null: area or pressure is not said, or the marks are no cake on a membrane. */
  readonly resistance: FlowResistance | null;
  readonly advice: readonly { readonly kind: string; readonly message: string }[];
  readonly cautions: readonly string[];
}

/** Points of the forecast curve. */
const POINTS = 40;

const ABOVE_NOUGHT = {
  total_ml: ['mL', 'The volume to be filtered', 'give all that is to be poured'],
  area_cm2: ['cm²', 'The wetted area of the filter', 'measure the diameter that the liquid wets'],
  onto_cm2: ['cm²', 'The area of the other filter', 'measure the diameter that the liquid wets'],
  pore_um: ['µm', 'The pore', 'read it from the box'],
  smallest_um: ['µm', 'The smallest piece asked for', 'take it from the question'],
  piece_um: ['µm', 'The width of the pieces expected', 'take it from the question'],
  pieces: ['', 'The number of pieces expected', 'take it from a first run'],
  pressure_kpa: ['kPa', 'The pressure', 'read it from the pump'],
  solids_g_l: ['g/L', 'The dry solids', 'dry and weigh a known volume'],
} as const;

/** Of nought nothing can be forecast; what was not said is another thing. */
function nothingOf(given: FlowWish): Refusal | null {
  for (const [name, [unit, what, remedy]] of Object.entries(ABOVE_NOUGHT)) {
    const value = given[name as keyof typeof ABOVE_NOUGHT] ?? null;
    if (value !== null && !(value > 0 && value < Infinity)) {
      return {
        why: 'not-above-nought',
        message: `${what} is ${value}${unit && ` ${unit}`}, which cannot be filtered with: it must be above 0${unit && ` ${unit}`}; ${remedy}, or leave it out.`,
      };
    }
  }
  return null;
}

/** Forecast and plan for a wish, or the refusal that says which mark is wrong. Pure; the bench may call it offline. */
export function flowReport(given: FlowWish): Outcome<FlowReport> {
  const nothing = nothingOf(given);
  if (nothing) return refused(nothing);
  const from = given.area_cm2 ?? null;
  const onto = given.onto_cm2 ?? null;
  const marks = given.marks.map((mark) => ({ timeS: mark.time_s, volumeMl: mark.volume_ml }));
  const made = forecastFlow(from !== null && onto !== null ? onAnotherArea(marks, from, onto) : marks);
  if (!made.ok) return made;
  const wish: FilterWish = {
    totalMl: given.total_ml ?? null,
    areaCm2: onto ?? from,
    poreUm: given.pore_um ?? null,
    smallestUm: given.smallest_um ?? null,
    diluted: given.diluted ?? 1,
  };
  return done(reportOf(made.value, planFiltration(made.value, wish), wish, given));
}

function reportOf(
  forecast: FlowForecast,
  plan: FilterPlan,
  { totalMl, areaCm2 }: FilterWish,
  given: FlowWish,
): FlowReport {
  const load = loadOf(plan, areaCm2, given);
  const last = forecast.marks[forecast.marks.length - 1]!.volumeMl;
  const { capacityMl } = forecast;
  const to = Math.max(1.15 * last, Math.min(capacityMl.upper ?? Infinity, 1.15 * capacityMl.value, 4 * last));
  return {
    format: 'retentate/flow/1',
    marks: forecast.marks.map((mark) => ({ time_s: mark.timeS, volume_ml: mark.volumeMl })),
    law: forecast.named,
    law_sentence: lawSentence(forecast),
    laws: forecast.laws.map((fit) => {
      const constant = printedConstant(fit.law, fit.flowMlS, fit.lossPerMl);
      return {
        law: fit.law,
        exponent: lawOf(fit.law).exponent,
        probability: fit.probability,
        start_flow_ml_per_min: fit.flowMlS * 60,
        constant: constant.value,
        constant_unit: constant.unit,
        last_volume_ml: fit.lastVolumeMl,
        scatter: fit.scatter,
      };
    }),
    start_flow_ml_per_min: forecast.startFlowMlS * 60,
    flow_now_share: bandOf(forecast.flowNow),
    capacity_ml: bandOf(capacityMl),
    capacity_at_flow_share: FULL_AT_FLOW,
    follows_no_law: forecast.followsNoLaw,
    curve: forecastCurve(forecast, to, POINTS).map(timeJson),
    total_ml: totalMl,
    passed: plan.passed,
    target: plan.target && timeJson(plan.target),
    per_filter_ml: plan.perFilterMl,
    filters: plan.filters,
    one_filter_area_cm2: plan.oneFilterAreaCm2,
    load,
    resistance: resistanceOf(forecast, areaCm2, given),
    advice: [...plan.advice, ...(load ? [loadAdvice(load)] : [])],
    cautions: [...VACUUM_CAUTIONS],
  };
}

function loadOf(plan: FilterPlan, areaCm2: number | null, given: FlowWish): FlowLoad | null {
  const across = given.piece_um ?? given.smallest_um ?? null;
  if (areaCm2 === null || across === null) return null;
  const pieces = given.pieces ?? null;
  const one = pieces === null ? 0 : pieces / (plan.filters ?? 1);
  const { share, mostPieces, tooMany } = filterCover(one, (Math.PI / 4) * across ** 2, areaCm2);
  return {
    piece_um: across,
    cover_at_most: MOST_COVER,
    most_pieces: mostPieces,
    share: pieces === null ? null : share,
    too_many: tooMany,
    filters: pieces === null ? null : Math.max(1, Math.ceil(pieces / Math.max(1, mostPieces))),
  };
}

function loadAdvice(load: FlowLoad): { readonly kind: string; readonly message: string } {
  const limit = `Of pieces ${load.piece_um} µm across, ${load.most_pieces} cover ${Math.round(100 * load.cover_at_most)} % of this filter; with more they hide one another.`;
  return {
    kind: 'load',
    message: load.too_many
      ? `${limit} Those expected would cover ${Math.round(100 * load.share!)} % of each: share them out on ${load.filters} filters, each control likewise.`
      : limit,
  };
}

function resistanceOf(
  forecast: FlowForecast,
  areaCm2: number | null,
  { pressure_kpa = null, solids_g_l = null }: FlowWish,
): FlowResistance | null {
  if (areaCm2 === null || pressure_kpa === null) return null;
  const line = cakeLine(forecast.marks.filter(({ volumeMl }) => volumeMl > 0));
  // A line that falls, or that begins below nought, is no cake on a membrane.
  if (!(line.slopeSMl2 > 0 && line.interceptSMl > 0)) return null;
  const { cakeMKg, membrane1M } = cakeResistance(line, {
    areaCm2,
    pressureKPa: pressure_kpa,
    solidsGL: solids_g_l ?? 1,
    viscosityMPaS: WATER_20_MPAS,
  });
  return { cake_m_per_kg: solids_g_l === null ? null : cakeMKg, membrane_per_m: membrane1M };
}

/** Viscosity of water at 20 °C. Source: IAPWS R12-08. */
const WATER_20_MPAS = 1.0016;

const bandOf = ({ value, lower, upper, confidence }: Band): BandReport => ({
  value,
  lower,
  upper,
  confidence,
});
const timeJson = (at: FilterPlan['target'] & object) => ({
  volume_ml: at.volumeMl,
  chance_reached: at.reached,
  time_s: at.timeS && bandOf(at.timeS),
});

export const LAW_NAMES: Readonly<Record<BlockingLaw, string>> = {
  complete: 'complete blocking',
  standard: 'standard blocking',
  intermediate: 'intermediate blocking',
  cake: 'cake filtration',
};

function lawSentence(forecast: FlowForecast): string {
  const { named, capacityMl, flowNow } = forecast;
  if (named !== null) {
    const { probability } = forecast.laws.find((fit) => fit.law === named)!;
    return `The flow follows ${LAW_NAMES[named]} (${Math.min(99, Math.round(100 * probability))} in 100 against the other three): ${lawOf(named).means}.`;
  }
  if (capacityMl.upper === null && flowNow.upper !== null && flowNow.upper > 0.9)
    return 'The flow has hardly slowed: which law it follows can’t be told apart yet.';
  const likely = forecast.laws.filter((fit) => fit.probability >= 0.1).map((fit) => LAW_NAMES[fit.law]);
  return `Which law the flow follows can’t be told apart: ${likely.join(', ')} are all possible; the band allows for each.`;
}

/** Usual cautions of filtering with a pump; local rules and the maker's instructions come first. */
export const VACUUM_CAUTIONS = [
  'Vacuum on glass: only thick-walled, vacuum-rated flasks without scratches or star cracks, behind a shield or in a mesh; never a plain conical flask. Let air in at the pump side first.',
  'Local rules, the data sheets of what is in the liquid, and supervised practice come first.',
] as const;
