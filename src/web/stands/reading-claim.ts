import type { ClaimJson } from '../../api/index.ts';

/** A claim travels with figures that its method names; these read the ones that the pictures need, null where not stated. */
type Stated = Readonly<Record<string, unknown>>;

export interface Span {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

const number = (from: Stated, name: string): number | null => {
  const value = from[name];
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
};

function span(from: Stated, value: string, lower: string, upper: string): Span | null {
  const [v, l, u] = [number(from, value), number(from, lower), number(from, upper)];
  return v === null || l === null || u === null ? null : { value: v, lower: l, upper: u };
}

export interface Background {
  readonly runs: number | null;
  readonly count: number | null;
  readonly perRun: Span | null;
  readonly onSpecimens: Span | null;
  readonly recovery: Span | null;
}

export function readBackground({ background }: ClaimJson): Background {
  const recovery = background.recovery;
  return {
    runs: number(background, 'runs'),
    count: number(background, 'count'),
    perRun: span(background, 'mean_per_run', 'lower', 'upper'),
    onSpecimens: span(
      background,
      'expected_on_specimens',
      'expected_on_specimens_lower',
      'expected_on_specimens_upper',
    ),
    recovery:
      typeof recovery === 'object' && recovery !== null
        ? span(recovery as Stated, 'value', 'lower', 'upper')
        : null,
  };
}

export interface Thresholds {
  /** Count of all specimen runs together from which they stand out by the test that decides; null where no count does. */
  readonly count: number | null;
  /** The same if runs scattered no more than Poisson. */
  readonly countIfPoisson: number | null;
  /** The same, shared out to one run. */
  readonly perRun: number | null;
  readonly perGram: number | null;
  readonly detectablePerGram: number | null;
}

export const readThresholds = ({ thresholds }: ClaimJson): Thresholds => ({
  count: number(thresholds, 'deciding_count'),
  perRun: number(thresholds, 'deciding_per_run'),
  countIfPoisson: number(thresholds, 'decision_count'),
  perGram: number(thresholds, 'critical_per_gram'),
  detectablePerGram: number(thresholds, 'detection_per_gram'),
});

export interface Rule {
  readonly name: string;
  readonly source: string | null;
  readonly reads: string | null;
  readonly value: number | null;
  readonly threshold: number | null;
  readonly agrees: boolean | null;
  readonly deceives: string | null;
}

const text = (value: unknown): string | null => (typeof value === 'string' && value !== '' ? value : null);

/** Other published rules, in counts per run. */
export const readRules = ({ comparison }: ClaimJson): readonly Rule[] =>
  comparison.map((rule) => ({
    name: rule.name,
    source: text(rule.source),
    reads: text(rule.reads),
    value: number(rule, 'value_per_run'),
    threshold: number(rule, 'threshold_per_run'),
    agrees: typeof rule.agrees === 'boolean' ? rule.agrees : null,
    deceives: text(rule.deceives),
  }));
