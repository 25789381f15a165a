import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBelow } from '../maths/index.ts';
import {
  agreementInterval,
  agreementWhenRare,
  cohenKappa,
  fleissKappa,
  kappaWord,
  meanEstimate,
  piecesByTwoScorers,
} from './index.ts';

const cohen = [
  [88, 14, 18],
  [10, 40, 10],
  [2, 6, 12],
];

describe('two readers', () => {
  it('Cohen’s own example: 0.700 observed, 0.410 expected, kappa .492 (Cohen 1960, table 2)', () => {
    const found = cohenKappa(cohen);
    expect(found.observed).toBeCloseTo(0.7, 12);
    expect(found.expected).toBeCloseTo(0.41, 12);
    expect(found.value).toBeCloseTo(0.49153, 5);
    expect(found.simpleError).toBeCloseTo(0.05492, 5);
    expect(found.simpleNullError).toBeCloseTo(0.05895, 5);
  });

  it('its large-sample errors 0.05100 and, under no agreement, 0.05198 (statsmodels; Fleiss, Cohen & Everitt 1969)', () => {
    const found = cohenKappa(cohen);
    expect(found.standardError).toBeCloseTo(0.051, 5);
    expect(found.nullError).toBeCloseTo(0.05198, 5);
  });

  it('2 × 2 of 20 5 / 10 15: kappa 0.4, error 0.126996 (statsmodels)', () => {
    const found = cohenKappa([
      [20, 5],
      [10, 15],
    ]);
    expect(found.value).toBeCloseTo(0.4, 12);
    expect(found.standardError).toBeCloseTo(0.126996, 6);
  });

  it('when one class is rare kappa falls and AC1 does not (118 of 120 agree)', () => {
    const rare = [
      [118, 2],
      [0, 0],
    ];
    expect(cohenKappa(rare).value).toBeCloseTo(0, 12);
    // by hand: π = 0.99167, 0.00833; pe = 2·0.99167·0.00833 = 0.016528; (0.98333 − pe)/(1 − pe)
    const expected = 2 * (119 / 120) * (1 / 120);
    expect(agreementWhenRare(rare).value).toBeCloseTo((118 / 120 - expected) / (1 - expected), 12);
  });

  it('error of AC1 agrees with resampling the things (seeded bootstrap)', () => {
    const found = agreementWhenRare(cohen);
    const cells = cohen.flatMap((row, i) =>
      row.flatMap((n, j) => Array.from({ length: n }, () => [i, j] as const)),
    );
    const chance = chanceFrom(51);
    const values = Array.from({ length: 2000 }, () => {
      const table = [0, 1, 2].map(() => [0, 0, 0]);
      for (let k = 0; k < cells.length; k++) {
        const [i, j] = cells[drawBelow(chance, cells.length)]!;
        table[i]![j]!++;
      }
      return agreementWhenRare(table).value;
    });
    const mean = values.reduce((s, v) => s + v, 0) / values.length;
    const sd = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1));
    expect(Math.abs(sd / found.standardError - 1)).toBeLessThan(0.08);
  });

  it('interval ends at 1; one class only is refused by kappa', () => {
    const nearly = agreementInterval(
      agreementWhenRare([
        [50, 1],
        [0, 9],
      ]),
      0.95,
    );
    expect(nearly.upper).toBeLessThanOrEqual(1);
    expect(() =>
      cohenKappa([
        [10, 0],
        [0, 0],
      ]),
    ).toThrow(/at least two classes/);
    expect(() => cohenKappa([[1, 2]])).toThrow(/square/);
  });

  it('bands of words (Landis & Koch 1977)', () => {
    expect([-0.1, 0.1, 0.3, 0.5, 0.7, 0.9].map(kappaWord)).toEqual([
      'poor',
      'slight',
      'fair',
      'moderate',
      'substantial',
      'almost perfect',
    ]);
  });
});

describe('many readers', () => {
  it('ten subjects, 14 readers, five classes: 0.210 (after Fleiss 1971, Psychol. Bull. 76:378)', () => {
    const found = fleissKappa([
      [0, 0, 0, 0, 14],
      [0, 2, 6, 4, 2],
      [0, 0, 3, 5, 6],
      [0, 3, 9, 2, 0],
      [2, 2, 8, 1, 1],
      [7, 7, 0, 0, 0],
      [3, 2, 6, 3, 0],
      [2, 5, 3, 2, 2],
      [6, 5, 2, 1, 0],
      [0, 2, 2, 3, 7],
    ]);
    expect(found.value).toBeCloseTo(0.209931, 6);
  });
});

describe('pieces that two scorers missed', () => {
  it('the estimate is right on average when both look hard enough (Chapman 1951: unbiased if n₁ + n₂ ≥ N)', () => {
    expect(meanEstimate(40, 30, 25)).toBeCloseTo(40, 9);
    expect(meanEstimate(12, 12, 3)).toBeCloseTo(12, 9);
  });

  it('nobody missed anything when both found the same', () => {
    expect(piecesByTwoScorers(20, 20, 20, 0.95)).toMatchObject({ value: 20, lower: 20, upper: 20 });
  });

  it('keeps to at least the pieces seen, and says what cannot be', () => {
    const found = piecesByTwoScorers(30, 25, 20, 0.95);
    expect(found.value).toBeCloseTo((31 * 26) / 21 - 1, 12);
    expect(found.lower).toBeGreaterThanOrEqual(35);
    expect(found.upper).toBeGreaterThan(found.value);
    expect(() => piecesByTwoScorers(3, 5, 4, 0.95)).toThrow(/at most 3/);
  });
});
