import type { ClaimJson } from '../../api/index.ts';
import type { NetRow } from '../../report/index.ts';

interface Background {
  readonly background: { readonly expected: number; readonly lower: number; readonly upper: number } | null;
  readonly threshold: number | null;
}

const number = (from: Record<string, unknown>, name: string): number | null => {
  const value = from[name];
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
};

/** Background for one run, and the count beyond which a run stands out; null where the claim does not state them. */
export function readBackground(claim: ClaimJson): Background {
  const expected = number(claim.background, 'mean_per_run');
  const lower = number(claim.background, 'lower');
  const upper = number(claim.background, 'upper');
  return {
    background: expected === null || lower === null || upper === null ? null : { expected, lower, upper },
    threshold: number(claim.thresholds, 'decision_per_run'),
  };
}

/** Other published rules that state a figure per gram, as rows of the same picture. */
export function readComparison(claim: ClaimJson): readonly NetRow[] {
  return claim.comparison.flatMap((rule) => {
    const value = number(rule, 'value');
    if (value === null) return [];
    const lower = number(rule, 'lower') ?? value;
    const upper = number(rule, 'upper') ?? value;
    return [{ label: rule.name, value, lower, upper, main: false }];
  });
}
