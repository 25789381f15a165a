import { describe, expect, it } from 'vitest';
import type { ClaimJson } from '../../api/index.ts';
import { readBackground, readRules, readThresholds } from './reading-claim.ts';

const claim = (more: Partial<ClaimJson>): ClaimJson => ({
  format: 'retentate/claim/1',
  state: 'cannot-be-judged',
  identified_by: 'by-eye',
  attributed: false,
  above_background: null,
  net_per_gram: null,
  upper_limit_per_gram: null,
  net_per_portion: null,
  net_per_piece: null,
  natural_kept: null,
  joint: null,
  robustness: null,
  sizes: null,
  gaps: [],
  background: {},
  thresholds: {},
  tests: [],
  comparison: [],
  sentence: '',
  because: [],
  next: [],
  ...more,
});

describe('figures that travel with a claim', () => {
  it('are null where they are not stated, never nought', () => {
    const given = claim({ background: { mean_per_run: Number.NaN, lower: 1, upper: 2 } });
    expect(readBackground(given).perRun).toBeNull();
    expect(readBackground(given).recovery).toBeNull();
    expect(readThresholds(given)).toEqual({
      count: null,
      countIfPoisson: null,
      perRun: null,
      perGram: null,
      detectablePerGram: null,
    });
  });
  it('are read with their intervals', () => {
    const given = claim({
      background: { mean_per_run: 3, lower: 2, upper: 5, recovery: { value: 0.9, lower: 0.8, upper: 0.95 } },
      comparison: [{ name: 'rule', value_per_run: 4, threshold_per_run: null, agrees: false, deceives: '' }],
    });
    expect(readBackground(given).perRun).toEqual({ value: 3, lower: 2, upper: 5 });
    expect(readBackground(given).recovery?.lower).toBe(0.8);
    expect(readRules(given)[0]).toMatchObject({ value: 4, threshold: null, agrees: false, deceives: null });
  });
});
