import type { Dispersion } from './dispersion.ts';
import type { Interval } from './interval.ts';
import type { NetRelease } from './joint/net-release.ts';

/** A caution that travels with the number. */
export interface Caution {
  readonly why:
    | 'controls-assumed-poisson'
    | 'controls-scatter'
    | 'specimens-scatter'
    | 'interval-widened-for-scatter'
    | 'controls-above-specimens'
    | 'limit-held-at-none-found'
    | 'recovery-not-measured'
    | 'recovery-outside-convention'
    | 'drill-needs-candidates'
    | 'natural-pieces-kept'
    | 'confirmation-not-used'
    | 'one-specimen-run'
    | 'efforts-differ';
  readonly message: string;
}

export interface Test {
  readonly name: 'conditional-exact' | 'permutation' | 'joint-model' | 'e-test';
  /** One-sided: chance of at least this excess if the product shed nothing. */
  readonly p: number;
  readonly primary: boolean;
  readonly above: boolean;
  /** False where so few runs could not reach the level whatever they held. */
  readonly canReach: boolean;
  readonly says: string;
}

/** Another published rule, shown beside and never deciding. Figures are per run at full effort. */
export interface ComparedRule {
  readonly name: string;
  readonly source: string;
  readonly reads: 'above' | 'not above' | 'cannot say';
  /** What the rule compares, and with what; null where the rule cannot be worked out from these counts. */
  readonly value: number;
  readonly threshold: number | null;
  readonly agrees: boolean;
  readonly deceives: string | null;
}

export interface Thresholds {
  /**
   * Smallest total count of all specimen runs that the deciding test calls above these controls, the runs sharing it out
   * as they share out theirs; null where it cannot be told (the joint model decides, or too many runs to try).
   */
  readonly decidingCount: number | null;
  /** Smallest total count of all specimen runs that stands above these controls if runs scatter as Poisson (exact, conditional). */
  readonly decisionCount: number;
  /** Largest net count (all specimen runs) that is not called an excess; may be below 0 only when controls exceed. */
  readonly criticalNet: number;
  /** True net count that would be called an excess with chance 95 % (or 1 − alpha) with controls like these. */
  readonly detectionNet: number;
  readonly criticalPerGram: number;
  readonly detectionPerGram: number;
  /** The normal forms for the same layout, for comparison; they deceive below an expected background of about 20. */
  readonly currie: {
    readonly criticalNet: number;
    readonly detectionNet: number;
    readonly deceives: boolean;
  };
  readonly alpha: number;
}

export interface Group {
  readonly runs: number;
  readonly count: number;
  /** Sum over runs of passed × examined: 1 is one run wholly looked at. */
  readonly effort: number;
  /** Per run at full effort, with the exact interval of the total. */
  readonly perRun: Interval;
  /** Null with a single run: scatter was not measured. */
  readonly scatter: Dispersion | null;
}

export interface Judgement {
  readonly confidence: number;
  /** One-sided level of the decision: 1 − confidence. */
  readonly alpha: number;
  readonly specimens: Group & { readonly massG: number };
  readonly controls: Group;
  /** What the controls let expect on the specimen runs as they were looked at. */
  readonly background: Interval;
  /** Count of the specimen runs minus that background; never clipped. */
  readonly netCount: number;
  readonly netPerGram: Interval;
  /** Mean mass of a portion as it was looked at: net per portion = net per gram × this. */
  readonly gramsPerPortion: number;
  /** Net per gram that one net count stands for: 1/(grams seen × recovery × share kept by the scorer). */
  readonly perNetCount: number;
  /** Per portion as it was used (one run, one act). */
  readonly netPerPortion: Interval;
  /** “Fewer than”: one-sided upper limit of the net per gram. */
  readonly upperLimitPerGram: number;
  readonly recovery: Interval | null;
  /** Shares of true pieces and of natural pieces that the scorer keeps. */
  readonly drill: { readonly truePositive: Interval; readonly falsePositive: Interval } | null;
  /** Natural pieces that may be in the net count, by the drill and the candidates; null where either is missing. */
  readonly naturalKept: Interval | null;
  /** Per piece of product; null where a portion's pieces are not known. */
  readonly netPerPiece: Interval | null;
  /** Scatter, probability and sources of variance of the joint model; null where there are too few runs for it. */
  readonly joint: NetRelease | null;
  readonly aboveBackground: boolean;
  readonly tests: readonly Test[];
  readonly thresholds: Thresholds;
  readonly comparison: readonly ComparedRule[];
  readonly cautions: readonly Caution[];
  /** True when there are runs enough for decision and interval to hold whatever the scatter between runs. */
  readonly meetsMinimum: boolean;
}
