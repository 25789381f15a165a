import { describe, expect, it } from 'vitest';
import { type CountingInput, judge } from '../science/counting/index.ts';
import { type Chance, chanceFrom, drawBelow, drawNegativeBinomial } from '../science/maths/index.ts';
import { claimFromCounts } from './claim-from-counts.ts';

/** A study with counts of any size and scatter, of portions and extents as unlike as they come. */
function anyCounts(chance: Chance, mostRuns: number, alike: boolean): CountingInput {
  const of = <T>(list: readonly T[]): T => list[drawBelow(chance, list.length)]!;
  const background = of([0, 0.2, 1, 5, 50, 500]);
  const release = of([0, 0.3, 3, 30, 300, 1e4]);
  const shape = of([Infinity, 5, 2, 1, 0.3]);
  const run = (kind: string, mean: number) => (_: unknown, at: number) => ({
    name: `${kind} ${at + 1}`,
    kind,
    count: drawNegativeBinomial(chance, mean, shape),
    massG: alike ? 1 : of([0.01, 1, 1, 250]),
    passed: alike ? 1 : of([1, 1, 0.3]),
    examined: alike ? 1 : of([1, 1, 0.05]),
  });
  const runs = () => Array.from({ length: 1 + drawBelow(chance, mostRuns) });
  return {
    portions: runs().map(run('run', background + release)),
    controls: runs().map(run('blank', background)),
    recovery: of([null, { found: 45, added: 50 }, { found: 1, added: 50 }]),
    drill: of([null, null, { truePositive: [18, 20] as const, falsePositive: [2, 30] as const }]),
    confidence: of([0.95, 0.95, 0.8, 0.99]),
  };
}

const told = (input: CountingInput): string =>
  `${input.portions.map((p) => p.count)} against ${input.controls.map((c) => c.count)}`;

describe('whatever the counts', () => {
  it.each([
    ['like runs', true, 120],
    ['unlike runs', false, 60],
  ])(
    'a judgement of %s has an interval that holds its value',
    (_, alike, studies) => {
      const chance = chanceFrom(41);
      for (let i = 0; i < studies; i++) {
        const input = anyCounts(chance, 6, alike);
        const judged = judge(input);
        if (!judged.ok) throw new Error(`${told(input)}: ${judged.refusal.message}`);
        const { value, lower, upper } = judged.value.netPerGram;
        expect(lower, told(input)).toBeLessThanOrEqual(value);
        expect(upper, told(input)).toBeGreaterThanOrEqual(value);
        expect(judged.value.upperLimitPerGram, told(input)).toBeGreaterThan(0);
      }
    },
    60_000,
  );

  it('a claim is made, with figures that are numbers', () => {
    const chance = chanceFrom(42);
    for (let i = 0; i < 12; i++) {
      const input = anyCounts(chance, 4, i % 2 === 0);
      const claim = claimFromCounts(input);
      expect(claim.ok, told(input)).toBe(true);
      expect(JSON.stringify(claim), told(input)).not.toMatch(/NaN|Infinity|"value":null/);
    }
  }, 60_000);

  it.each([
    [
      [7, 19, 31, 64],
      [1, 0, 0, 1],
    ],
    [
      [27, 44, 92],
      [0, 0, 0, 0, 1],
    ],
  ])('%j against %j, where a run left out leaves a background of a fraction of a count', (found, blanks) => {
    const seen = { passed: 1, examined: 1 };
    const claim = claimFromCounts({
      portions: found.map((count, i) => ({ name: `run ${i}`, massG: 1, count, ...seen })),
      controls: blanks.map((count, i) => ({ name: `blank ${i}`, kind: 'blank', count, ...seen })),
      recovery: null,
      drill: null,
      confidence: 0.95,
    });
    expect(claim).toMatchObject({ ok: true, value: { above_background: true } });
  });
});
