/** `retentate/plan/1`: what a design can find, and how hours are best spent, as a plain object with units in its names. */
import {
  type Aim,
  chanceToSee,
  limitWithinReach,
  mayClaim,
  type PlannedDesign,
  type PlanWish,
  promised,
  smallestSeen,
  splitsOfHours,
  withinReach,
} from '../../science/counting/index.ts';
import { done, type Outcome } from '../../units/index.ts';
import { KNOWN_WITHIN, LEAST_RECOVERY } from '../claim/state.ts';
import { type Assumed, type PlanAsked, type PlanRead, type PlanRefusal, readPlan } from './plan-wish.ts';
import { becauseOf, cautionsOf, nextOf, sentenceOf } from './plan-words.ts';

export interface DesignReport {
  readonly specimen_runs: number;
  readonly controls: number;
  readonly spiked_runs: number;
  /** On each side. */
  readonly tested_pieces: number;
  readonly hours: number;
  /** Chance that the release expected is called above the background; null: no release was given. */
  readonly chance_above: number | null;
  /** Chance that its amount can be stated; null: no release was given, or a yes or no is asked for. */
  readonly chance_amount: number | null;
  /** Smallest release per gram seen with 80 and 95 %; null: never by this few runs. */
  readonly smallest_80_per_gram: number | null;
  readonly smallest_95_per_gram: number | null;
  /** “Fewer than” when nothing is released, as it typically comes out. */
  readonly limit_per_gram: number | null;
}

export interface ReachReport extends DesignReport {
  /** Whether a study of these runs may claim at all, and may state an amount. */
  readonly may_claim: boolean;
  readonly may_state_amount: boolean;
  readonly more: readonly {
    readonly adds: 'two controls' | 'two specimen runs' | 'two controls and two specimen runs';
    readonly specimen_runs: number;
    readonly controls: number;
    readonly hours: number;
    readonly chance_above: number | null;
    readonly smallest_80_per_gram: number | null;
    readonly limit_per_gram: number | null;
  }[];
}

export interface PlanReport {
  readonly format: 'retentate/plan/1';
  readonly aim: Aim;
  readonly assumed: readonly Assumed[];
  /** Best first where hours and a release were given; else from few runs to many. */
  readonly designs: readonly DesignReport[];
  /** Which of them is recommended; null: none fits the hours. */
  readonly best: number | null;
  /** With the runs that are there; null: none were named. */
  readonly have: ReachReport | null;
  /** The recommended design if what was expected is otherwise. */
  readonly if_otherwise: readonly { readonly what: string; readonly chance_above: number }[];
  /** Chance to be called above the background against release, for the recommended design. */
  readonly curve: readonly { readonly release_per_gram: number; readonly chance_above: number }[];
  readonly sentence: string;
  readonly because: readonly string[];
  readonly next: readonly string[];
  readonly cautions: readonly string[];
}

/** Shown where no hours are given: from the fewest runs that may claim, up. */
const LADDER: readonly (readonly [specimens: number, controls: number])[] = [
  [4, 4],
  [6, 4],
  [6, 6],
  [8, 8],
  [12, 12],
];
const LADDER_SPIKES = 3;
const CURVE_POINTS = 9;
const CURVE_STUDIES = 200;
/** A release up to so many times the one that is nearly always seen is on the picture. */
const NEAR = 5;

/** What a design can find. Refused where a number is out of range; every other answer is a plan. */
export function planReport(asked: PlanAsked): Outcome<PlanReport, PlanRefusal> {
  const read = readPlan(asked);
  if (!read.ok) return read;
  const { wish, release, hours, have, aim, assumed } = read.value;
  const designs = designsOf(read.value);
  const best = designs.length === 0 ? null : release !== null && hours !== null ? 0 : middleOf(designs);
  const chosen = best === null ? null : designs[best]!;
  const reach = have && reachOf(wish, have, release, aim);
  const report: Omit<PlanReport, 'sentence' | 'because' | 'next' | 'cautions'> = {
    format: 'retentate/plan/1',
    aim,
    assumed,
    designs,
    best,
    have: reach,
    if_otherwise: chosen && release !== null ? otherwise(wish, chosen) : [],
    curve: chosen || reach ? curveOf(wish, reach ?? chosen!, release) : [],
  };
  return done({
    ...report,
    sentence: sentenceOf(report, read.value),
    because: becauseOf(report, read.value),
    next: nextOf(report, read.value),
    cautions: cautionsOf(report, read.value),
  });
}

/** Without hours or a release nothing can be best: the usual design is pointed at. */
const middleOf = (designs: readonly DesignReport[]): number =>
  Math.max(
    0,
    designs.findIndex((d) => d.specimen_runs === 6 && d.controls === 6),
  );

function designsOf({ wish, release, hours, aim }: PlanRead): DesignReport[] {
  if (hours !== null) {
    const known = release !== null;
    // without a release to aim at, the smallest one that the hours let one hope to see takes its place
    const aimed = known ? wish : { ...wish, truth: { ...wish.truth, releasePerGram: roughRelease(wish) } };
    return splitsOfHours(aimed, aim, KNOWN_WITHIN).map((d) => reportOf(wish, d, known));
  }
  const confirmed = wish.confirming ? 20 : 0;
  return LADDER.map(([specimens, controls]) => {
    const spikes = aim === 'amount' ? LADDER_SPIKES : 0;
    const tested = aim === 'amount' ? confirmed : 0;
    return reportOf(
      wish,
      promised(wish, { specimens, controls, spikes, tested }, release === null ? 'above' : aim, KNOWN_WITHIN),
      release !== null,
    );
  });
}

/** As much again as the background, in particles per gram. */
const roughRelease = (wish: PlanWish): number =>
  Math.max(1, wish.truth.background) / (wish.massG * wish.truth.recovery);

/** Below the least recovery no amount is stated, however well it is known. */
const amountOf = (wish: PlanWish, d: PlannedDesign): number | null =>
  d.amount !== null && wish.truth.recovery < LEAST_RECOVERY ? 0 : d.amount;

const reportOf = (wish: PlanWish, d: PlannedDesign, known: boolean): DesignReport => ({
  specimen_runs: d.specimens,
  controls: d.controls,
  spiked_runs: d.spikes,
  tested_pieces: d.tested,
  hours: d.hours,
  chance_above: known ? d.chance : null,
  chance_amount: known ? amountOf(wish, d) : null,
  smallest_80_per_gram: smallestSeen(wish, d.specimens, d.controls, 0.8),
  smallest_95_per_gram: smallestSeen(wish, d.specimens, d.controls, 0.95),
  limit_per_gram: limitWithinReach(wish, d.specimens, d.controls, d.spikes),
});

function reachOf(
  wish: PlanWish,
  have: NonNullable<PlanRead['have']>,
  release: number | null,
  aim: Aim,
): ReachReport {
  const { specimens, controls, spikes } = have;
  const found = withinReach(wish, specimens, controls, spikes);
  const known = release !== null;
  const may = mayClaim(wish, specimens, controls);
  const design = promised(
    wish,
    { specimens, controls, spikes, tested: 0 },
    known ? aim : 'above',
    KNOWN_WITHIN,
  );
  return {
    specimen_runs: specimens,
    controls,
    spiked_runs: spikes,
    tested_pieces: 0,
    hours: design.hours,
    chance_above: known ? design.chance : null,
    chance_amount: known ? amountOf(wish, design) : null,
    smallest_80_per_gram: found.smallestSeen80,
    smallest_95_per_gram: found.smallestSeen95,
    limit_per_gram: found.limitPerGram,
    may_claim: may,
    may_state_amount: may && spikes > 0,
    more: found.more.map((next) => ({
      adds: next.adds,
      specimen_runs: next.specimens,
      controls: next.controls,
      hours: next.hours,
      chance_above: known ? chanceToSee(wish, next.specimens, next.controls, release, CURVE_STUDIES) : null,
      smallest_80_per_gram: next.smallestSeen80,
      limit_per_gram: next.limitPerGram,
    })),
  };
}

/** The recommended design under half and twice of what was guessed. */
function otherwise(wish: PlanWish, of: DesignReport): PlanReport['if_otherwise'] {
  const { truth } = wish;
  const chance = (what: string, other: Partial<PlanWish['truth']>) => {
    const then = { ...truth, ...other };
    return {
      what,
      chance_above: chanceToSee(
        { ...wish, truth: then },
        of.specimen_runs,
        of.controls,
        then.releasePerGram,
        CURVE_STUDIES,
      ),
    };
  };
  return [
    chance('half the release', { releasePerGram: truth.releasePerGram / 2 }),
    chance('twice the background', { background: 2 * truth.background }),
    chance('twice the scatter between runs', {
      backgroundScatter: Math.min(2.25, 4 * truth.backgroundScatter),
      releaseScatter: Math.min(2.25, 4 * truth.releaseScatter),
    }),
  ];
}

/** Chance against release, from none to well above what is nearly always seen. */
function curveOf(wish: PlanWish, of: DesignReport, release: number | null): PlanReport['curve'] {
  const seen = of.smallest_95_per_gram ?? of.smallest_80_per_gram;
  if (seen === null) return [];
  const near = release !== null && release < NEAR * seen;
  const top = Math.max(1.4 * seen, near ? 1.1 * release : 0);
  return Array.from({ length: CURVE_POINTS }, (_, i) => {
    const release = Number(((top * i) / (CURVE_POINTS - 1)).toPrecision(4));
    return {
      release_per_gram: release,
      chance_above: chanceToSee(wish, of.specimen_runs, of.controls, release, CURVE_STUDIES),
    };
  });
}
