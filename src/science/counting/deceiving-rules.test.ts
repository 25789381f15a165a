import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBinomial, drawNegativeBinomial, drawPoisson } from '../maths/index.ts';
import { blankSpread, exactDecisionCount, judge, meanPlusSd, netInterval, permutationTest } from './index.ts';

/** Four standard errors of a rate over so many draws. */
const room = (rate: number, draws: number): number => 4 * Math.sqrt((rate * (1 - rate)) / draws);

describe('what popular rules do to empty runs (seeded simulation)', () => {
  it('mean + 3 SD of three Poisson blanks calls 6.5–10 % detected; of ten, 1.4–3.6 %', () => {
    const draws = 20_000;
    for (const [blanks, least, most] of [
      [3, 0.065, 0.1],
      [10, 0.014, 0.036],
    ] as const) {
      for (const mean of [2, 5, 10]) {
        const chance = chanceFrom(91);
        let called = 0;
        for (let i = 0; i < draws; i++) {
          const spread = blankSpread(Array.from({ length: blanks }, () => drawPoisson(chance, mean)));
          if (drawPoisson(chance, mean) > meanPlusSd(spread, 3)) called++;
        }
        const rate = called / draws;
        expect(rate, `${blanks} blanks of mean ${mean}`).toBeGreaterThan(least - room(least, draws));
        expect(rate, `${blanks} blanks of mean ${mean}`).toBeLessThan(most + room(most, draws));
      }
    }
  });

  it('three Poisson blanks of mean 0.5 are all equal in a quarter of cases', () => {
    const chance = chanceFrom(92);
    const draws = 20_000;
    let equal = 0;
    for (let i = 0; i < draws; i++) {
      const [a, b, c] = [drawPoisson(chance, 0.5), drawPoisson(chance, 0.5), drawPoisson(chance, 0.5)];
      if (a === b && b === c) equal++;
    }
    expect(equal / draws).toBeCloseTo(0.25, 1);
  });

  it('the plain Poisson rule calls 14–20 % when blanks scatter (negative binomial, shape 2), however many blanks', () => {
    const draws = 4000;
    for (const [mean, blanks] of [
      [5, 3],
      [10, 10],
    ] as const) {
      const chance = chanceFrom(93);
      let called = 0;
      for (let i = 0; i < draws; i++) {
        let total = 0;
        for (let j = 0; j < blanks; j++) total += drawNegativeBinomial(chance, mean, 2);
        if (drawNegativeBinomial(chance, mean, 2) >= exactDecisionCount(total, blanks)) called++;
      }
      expect(called / draws).toBeGreaterThan(0.14 - room(0.14, draws));
      expect(called / draws).toBeLessThan(0.2 + room(0.2, draws));
    }
  });

  it('relabelling keeps its level whatever the scatter', () => {
    const draws = 2000;
    const chance = chanceFrom(94);
    const group = (): number[] => Array.from({ length: 4 }, () => drawNegativeBinomial(chance, 8, 1));
    let called = 0;
    for (let i = 0; i < draws; i++) if (permutationTest(group(), group()).p <= 0.05) called++;
    expect(called / draws).toBeLessThan(0.05 + room(0.05, draws));
  });
});

describe('how often intervals hold the truth (seeded simulation, Poisson runs)', () => {
  it.each([
    [0.5, 1, 3],
    [2, 0, 4],
    [5, 10, 4],
    [20, 3, 6],
  ])(
    'background %d a run, release %d a gram, %i controls: held 95 times in 100 or more',
    (background, release, controls) => {
      const chance = chanceFrom(95);
      const draws = 200;
      let held = 0;
      for (let i = 0; i < draws; i++) {
        const found = netInterval(
          {
            gross: drawPoisson(chance, 3 * (background + 0.8 * release)),
            grossEffort: 3,
            background: drawPoisson(chance, controls * background),
            backgroundEffort: controls,
            shares: [{ found: Math.max(1, drawBinomial(chance, 60, 0.8)), shown: 60 }],
          },
          0.95,
        );
        if (found.lower <= release && release <= found.upper) held++;
      }
      expect(held / draws).toBeGreaterThan(0.95 - room(0.95, draws));
    },
  );

  it('a product that sheds nothing is called above the background in at most 5 % of judged studies', () => {
    const chance = chanceFrom(96);
    const draws = 200;
    let called = 0;
    for (let i = 0; i < draws; i++) {
      const run = (): {
        name: string;
        kind: string;
        count: number;
        massG: number;
        passed: number;
        examined: number;
      } => ({
        name: 'run',
        kind: 'procedural blank',
        count: drawNegativeBinomial(chance, 4, 2),
        massG: 1,
        passed: 1,
        examined: 1,
      });
      const found = judge({
        portions: Array.from({ length: 4 }, run),
        controls: Array.from({ length: 4 }, run),
        recovery: null,
        drill: null,
        confidence: 0.95,
      });
      if (found.ok && found.value.aboveBackground) called++;
    }
    expect(called / draws).toBeLessThan(0.05 + room(0.05, draws));
  });
});
