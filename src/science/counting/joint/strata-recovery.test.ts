import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBinomial, drawPoisson } from '../../maths/index.ts';
import { factorKnowledge } from './factor-knowledge.ts';
import { valueAt } from './knowledge.ts';
import { estimateNetRelease } from './net-release.ts';
import { recoveryKnowledge } from './recovery-knowledge.ts';
import { strataRecovery } from './strata-recovery.ts';

const spikes = (found: number, n = 3, added = 40) => Array.from({ length: n }, () => ({ found, added }));

describe('a factor of 1 with an uncertainty', () => {
  // log-normal: quantiles exp(±1.959964 σ), σ = √ln(1 + u²)
  it('has the quantiles of a log-normal', () => {
    const sigma = Math.sqrt(Math.log1p(0.04));
    expect(valueAt(factorKnowledge(0.2), 0.5)).toBeCloseTo(1, 3);
    expect(valueAt(factorKnowledge(0.2), 0.975)).toBeCloseTo(Math.exp(1.959964 * sigma), 2);
    expect(() => factorKnowledge(-1)).toThrow(RangeError);
  });
});

describe('recovery by strata', () => {
  it('is the plain recovery where there is one stratum', () => {
    const one = strataRecovery([{ name: 'all', spikes: spikes(32), specimens: 60, controls: 10 }], 1);
    const plain = recoveryKnowledge(spikes(32));
    expect(one.value).toBeCloseTo(0.8, 12);
    for (const p of [0.025, 0.5, 0.975]) expect(valueAt(one.knowledge, p)).toBeCloseTo(valueAt(plain, p), 2);
  });

  // by hand: nets 30.5 and 10.5 of 41; 1/R = (30.5/0.9 + 10.5/0.5)/41 = 1.33875
  it('weighs each stratum by its share of the net', () => {
    const of = strataRecovery(
      [
        { name: 'large', spikes: spikes(36), specimens: 34, controls: 4 },
        { name: 'small', spikes: spikes(20), specimens: 16, controls: 6 },
      ],
      1,
    );
    expect(of.value).toBeCloseTo(41 / (30.5 / 0.9 + 10.5 / 0.5), 12);
    expect(valueAt(of.knowledge, 0.5)).toBeCloseTo(of.value, 1);
    expect(valueAt(of.knowledge, 0.975) - valueAt(of.knowledge, 0.025)).toBeGreaterThan(0.1);
  });

  it('covers the release where small pieces are lost more, which pooled recovery does not', () => {
    const chance = chanceFrom(5);
    const truth = { large: 0.9, small: 0.4 };
    const release = { large: 10, small: 30 };
    let covered = 0;
    let pooledCovered = 0;
    const studies = 150;
    for (let i = 0; i < studies; i++) {
      const runs = Array.from({ length: 6 }, () => ({
        large: drawPoisson(chance, 2 + release.large * truth.large),
        small: drawPoisson(chance, 3 + release.small * truth.small),
      }));
      const blanks = Array.from({ length: 6 }, () => ({
        large: drawPoisson(chance, 2),
        small: drawPoisson(chance, 3),
      }));
      const sum = (list: typeof runs, of: 'large' | 'small') => list.reduce((s, r) => s + r[of], 0);
      const drawn = (of: 'large' | 'small') =>
        Array.from({ length: 3 }, () => ({ found: drawBinomial(chance, 40, truth[of]), added: 40 }));
      const strata = (['large', 'small'] as const).map((name) => ({
        name,
        spikes: drawn(name),
        specimens: sum(runs, name),
        controls: sum(blanks, name),
      }));
      const input = {
        specimens: runs.map((r) => ({ count: r.large + r.small, passed: 1, examined: 1, massG: 1 })),
        controls: blanks.map((r) => ({ count: r.large + r.small, passed: 1, examined: 1 })),
        spikes: strata.flatMap((s) => s.spikes),
        confidence: 0.95,
      };
      for (const by of ['strata', 'pooled'] as const) {
        const answer = estimateNetRelease(by === 'strata' ? { ...input, strata } : input);
        if (!answer.ok) throw new Error(answer.refusal.message);
        const { lower, upper } = answer.value.perGram;
        if (lower <= 40 && 40 <= upper) {
          if (by === 'strata') covered++;
          else pooledCovered++;
        }
      }
    }
    // three Monte Carlo errors below 94 %
    expect(covered / studies).toBeGreaterThan(0.94 - 3 * Math.sqrt((0.94 * 0.06) / studies));
    expect(pooledCovered).toBeLessThan(covered);
  });
});

describe('uncertain extents', () => {
  it('widen the interval on both sides and leave the value', () => {
    const runs = [14, 11, 16, 12, 15].map((count) => ({ count, passed: 0.5, examined: 1, massG: 1 }));
    const blanks = [3, 2, 4, 1, 3].map((count) => ({ count, passed: 0.5, examined: 1 }));
    const of = (effortUncertainty?: number) => {
      const more = effortUncertainty === undefined ? {} : { effortUncertainty };
      const answer = estimateNetRelease({
        specimens: runs.map((run) => ({ ...run, ...more })),
        controls: blanks.map((run) => ({ ...run, ...more })),
        spikes: [],
        confidence: 0.95,
      });
      if (!answer.ok) throw new Error(answer.refusal.message);
      return answer.value.perGram;
    };
    const sure = of();
    const unsure = of(0.4);
    expect(of(0)).toEqual(sure);
    expect(unsure.value).toBeCloseTo(sure.value, 12);
    expect(unsure.lower).toBeLessThan(sure.lower);
    expect(unsure.upper).toBeGreaterThan(sure.upper);
  });

  it('cover the release when extents are known to 20 % only', () => {
    const chance = chanceFrom(8);
    let covered = 0;
    const studies = 150;
    const unsure = () =>
      0.5 *
      Math.exp(0.2 * Math.sqrt(-2 * Math.log(chance.uniform())) * Math.cos(2 * Math.PI * chance.uniform()));
    for (let i = 0; i < studies; i++) {
      const run = (mean: number) => ({
        count: drawPoisson(chance, Math.min(1, unsure()) * mean),
        passed: 0.5,
        examined: 1,
        effortUncertainty: 0.2,
      });
      const answer = estimateNetRelease({
        specimens: Array.from({ length: 6 }, () => ({ ...run(60), massG: 1 })),
        controls: Array.from({ length: 6 }, () => run(20)),
        spikes: [],
        confidence: 0.95,
      });
      if (!answer.ok) throw new Error(answer.refusal.message);
      const { lower, upper } = answer.value.perGram;
      if (lower <= 40 && 40 <= upper) covered++;
    }
    expect(covered / studies).toBeGreaterThan(0.94 - 3 * Math.sqrt((0.94 * 0.06) / studies));
  });
});
