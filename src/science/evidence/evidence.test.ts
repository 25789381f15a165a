import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBinomial } from '../maths/index.ts';
import {
  allocate,
  chanceOfPlastic,
  comparePopulations,
  drawCards,
  drawWithin,
  extrapolate,
  fitAffine,
  guessTest,
  INDEPENDENT,
  jointChances,
  mapPlace,
  matchByPlace,
  orderFor,
  type RunPieces,
  sizeLimits,
  type TestSaid,
  WHOLLY_TOGETHER,
  worthTesting,
} from './index.ts';

const said = (
  passesPlastic: number,
  passesOthers: number,
  outcome: 'pass' | 'fail',
  group = 'a',
): TestSaid => ({
  group,
  passesPlastic,
  passesOthers,
  outcome,
});

/** So many drill pieces that the rate is as good as known. */
const sure = (share: number) => ({ k: Math.round(share * 1e6), n: 1e6 });

describe('the chance that a piece is plastic', () => {
  // Bayes' rule with the published rates of Lenz et al. 2015 (prior) as reckoned by hand
  it.each([
    [0.68, 'pass', 0.9, 0.18, 0.913978],
    [0.68, 'fail', 0.9, 0.18, 0.205811],
    [0.5, 'pass', 0.9, 0.1, 0.9],
    [0.1, 'pass', 0.9, 0.1, 0.5],
  ] as const)('prior %d after a %s', (prior, outcome, plastic, others, expected) => {
    const found = chanceOfPlastic(prior, [
      { group: 'heat', plastic: sure(plastic), others: sure(others), outcome },
    ]);
    expect(found.value).toBeCloseTo(expected, 3);
    expect(found.ifIndependent).toBeCloseTo(expected, 3);
  });

  it('multiplies only when tests are said to be independent', () => {
    const two = [
      { group: 'look', plastic: sure(0.9), others: sure(0.1), outcome: 'pass' as const },
      { group: 'heat', plastic: sure(0.95), others: sure(0.05), outcome: 'pass' as const },
    ];
    expect(chanceOfPlastic(0.5, two, INDEPENDENT).value).toBeCloseTo(0.994186, 3);
    const stated = chanceOfPlastic(0.5, two);
    expect(stated.value).toBeLessThan(0.99);
    // wholly together, two passes are worth what the better one is
    expect(stated.ifTogether).toBeCloseTo(0.9 / 0.95, 2);
    expect(stated.value).toBeGreaterThan(stated.ifTogether - 1e-9);
    expect(stated.value).toBeLessThan(stated.ifIndependent);
  });

  it('a small drill widens what is known', () => {
    const test = (n: number) => [
      { group: 'heat', plastic: { k: 0.9 * n, n }, others: { k: 0.1 * n, n }, outcome: 'pass' as const },
    ];
    const few = chanceOfPlastic(0.5, test(10));
    const many = chanceOfPlastic(0.5, test(200));
    expect(few.upper - few.lower).toBeGreaterThan(2 * (many.upper - many.lower));
  });
});

describe('errors made together', () => {
  it.each([INDEPENDENT, WHOLLY_TOGETHER, { within: 0.4, between: 0.3 }])(
    'chances of all patterns add to one (%o)',
    (dependence) => {
      let plastic = 0;
      let other = 0;
      for (const a of ['pass', 'fail'] as const) {
        for (const b of ['pass', 'fail'] as const) {
          for (const c of ['pass', 'fail'] as const) {
            const joint = jointChances(
              [said(0.9, 0.2, a), said(0.7, 0.1, b), said(0.8, 0.3, c, 'b')],
              dependence,
            );
            plastic += joint.ifPlastic;
            other += joint.ifOther;
          }
        }
      }
      expect(plastic).toBeCloseTo(1, 12);
      expect(other).toBeCloseTo(1, 12);
    },
  );

  it('two tests of a group covary by the stated part of the most they can', () => {
    const both = (within: number) =>
      jointChances([said(0.9, 0.2, 'pass'), said(0.7, 0.1, 'pass')], { within, between: 0 }).ifPlastic;
    expect(both(0)).toBeCloseTo(0.63, 12);
    expect(both(1)).toBeCloseTo(0.7, 12);
    expect(both(0.5) - both(0)).toBeCloseTo(0.5 * (0.7 - 0.63), 12);
  });

  it('refuses a dependence that is no share', () => {
    expect(() => jointChances([said(0.9, 0.1, 'pass')], { within: 2, between: 0 })).toThrow(RangeError);
  });
});

describe('guesses', () => {
  it('the lady who tasted tea: 4 of 4 has p = 1/70, 3 of 4 has 17/70 (Fisher 1935)', () => {
    expect(guessTest({ specimens: 4, controls: 4, hits: 4, falseHits: 0 }).p).toBeCloseTo(1 / 70, 12);
    expect(guessTest({ specimens: 4, controls: 4, hits: 3, falseHits: 1 }).p).toBeCloseTo(17 / 70, 12);
  });

  it('says that the blind leaked, and that nobody guessed', () => {
    expect(guessTest({ specimens: 20, controls: 20, hits: 17, falseHits: 4 })).toMatchObject({
      leaked: true,
      right: 33,
    });
    expect(guessTest({ specimens: 20, controls: 20, hits: 11, falseHits: 10 }).leaked).toBe(false);
    expect(guessTest({ specimens: 0, controls: 0, hits: 0, falseHits: 0 })).toMatchObject({
      p: 1,
      leaked: false,
    });
    expect(() => guessTest({ specimens: 1, controls: 1, hits: 2, falseHits: 0 })).toThrow(RangeError);
  });
});

describe('size agreement', () => {
  it('gives the bias and limits of Bland & Altman’s peak flow meters (1986: −2.1, sd 38.8)', () => {
    const wright = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    const mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
    const found = sizeLimits(wright, mini);
    expect(found.bias).toBeCloseTo(-2.1, 1);
    expect(found.spread).toBeCloseTo(38.8, 1);
    // they print ± 2 sd, reckoned from the rounded figures
    expect(found.bias - 2 * found.spread).toBeCloseTo(-79.7, 0);
    expect(found.bias + 2 * found.spread).toBeCloseTo(75.5, 0);
    expect(() => sizeLimits([1], [1])).toThrow(RangeError);
  });
});

describe('finding a piece again', () => {
  const there = ([x, y]: readonly [number, number]): [number, number] => [
    0.3 * x - 1.1 * y + 40,
    1.05 * x + 0.32 * y - 7,
  ];
  const marks = (places: readonly (readonly [number, number])[]) =>
    places.map((here) => ({ here, there: there(here) }));

  it('maps from three marks, turned, scaled and shifted', () => {
    const map = fitAffine(
      marks([
        [0, 0],
        [4000, 100],
        [200, 3000],
      ]),
    );
    if (!map.ok) throw new Error(map.refusal.message);
    const [x, y] = mapPlace(map.value, [1234, 777]);
    expect([x, y]).toEqual([
      expect.closeTo(there([1234, 777])[0], 6),
      expect.closeTo(there([1234, 777])[1], 6),
    ]);
    expect(map.value.remains).toBeNull();
  });

  it('a fourth mark shows a misreading', () => {
    const good = marks([
      [0, 0],
      [4000, 100],
      [200, 3000],
      [3500, 2900],
    ]);
    const exact = fitAffine(good);
    expect(exact.ok && exact.value.remains).toBeCloseTo(0, 6);
    const wrong = fitAffine([...good.slice(0, 3), { here: good[3]!.here, there: [0, 0] }]);
    expect(wrong.ok && wrong.value.remains! > 100).toBe(true);
  });

  it('refuses two marks, and three in a line', () => {
    const two = fitAffine(
      marks([
        [0, 0],
        [1, 1],
      ]),
    );
    const line = fitAffine(
      marks([
        [0, 0],
        [1000, 1000],
        [3000, 3000],
      ]),
    );
    expect([two, line].map((o) => (o.ok ? 'mapped' : o.refusal.why))).toEqual([
      'too-few-marks',
      'marks-in-line',
    ]);
  });
});

describe('matching by place', () => {
  it('pairs one to one, nearest first', () => {
    const found = matchByPlace(
      [
        [0, 0],
        [10, 0],
        [50, 50],
      ],
      [
        [9, 0],
        [1, 0],
        [200, 0],
      ],
      5,
    );
    expect(found).toEqual({
      both: [
        [0, 1],
        [1, 0],
      ],
      onlyFirst: [2],
      onlySecond: [2],
    });
  });
});

describe('drawing and extrapolating', () => {
  const strata = [
    { name: 'fibre', pieces: Array.from({ length: 60 }, (_, i) => `f${i}`), tested: 0, passed: 0 },
    { name: 'fragment', pieces: Array.from({ length: 20 }, (_, i) => `g${i}`), tested: 0, passed: 0 },
    { name: 'film', pieces: ['h0'], tested: 0, passed: 0 },
  ];

  it('gives every stratum its least, and the large ones most', () => {
    const take = allocate(strata, 12);
    expect(take.reduce((a, b) => a + b, 0)).toBe(12);
    expect(take[2]).toBe(1);
    expect(take[0]!).toBeGreaterThan(take[1]!);
    expect(take[1]!).toBeGreaterThanOrEqual(2);
    expect(allocate(strata, 1000)).toEqual([60, 20, 1]);
  });

  it('draws the same pieces for the same seed, whatever order they come in', () => {
    const untested = strata.map(({ name, pieces }) => ({ name, untested: pieces }));
    const turned = strata.map(({ name, pieces }) => ({ name, untested: [...pieces].reverse() }));
    expect(drawWithin(untested, [3, 2, 1], 7)).toEqual(drawWithin(turned, [3, 2, 1], 7));
    expect(drawWithin(untested, [3, 2, 1], 7)).not.toEqual(drawWithin(untested, [3, 2, 1], 8));
  });

  it('draws every piece of a stratum equally often', () => {
    const times = new Map<string, number>();
    for (let seed = 0; seed < 2000; seed++) {
      for (const { piece } of drawWithin([{ name: 'a', untested: ['a', 'b', 'c', 'd', 'e'] }], [2], seed))
        times.set(piece, (times.get(piece) ?? 0) + 1);
    }
    // 800 each, standard deviation about 22
    for (const n of times.values()) expect(Math.abs(n - 800)).toBeLessThan(100);
  });

  it('a whole population tested without error is known, an untested stratum is not', () => {
    const known = extrapolate([{ name: 'a', pieces: 20, tested: 20, passed: 14 }], null, 0.95);
    expect(known.total).toEqual({ value: 14, lower: 14, upper: 14 });
    const half = extrapolate(
      [
        { name: 'a', pieces: 20, tested: 20, passed: 14 },
        { name: 'b', pieces: 20, tested: 0, passed: 0 },
      ],
      null,
      0.95,
    );
    expect(half.strata[1]!.share).toBeNull();
    expect(half.total.lower).toBeLessThan(17);
    expect(half.total.upper).toBeGreaterThan(32);
  });

  it('covers the true number at least 94 times in 100 (three strata, drill of 30 + 30)', () => {
    const chance = chanceFrom(99);
    const sizes = [40, 25, 15];
    const shares = [0.7, 0.4, 0.9];
    let covered = 0;
    const studies = 150;
    for (let i = 0; i < studies; i++) {
      let truly = 0;
      const tested = sizes.map((pieces, h) => {
        const plastic = drawBinomial(chance, pieces, shares[h]!);
        truly += plastic;
        const n = 8;
        let passed = 0;
        // n of the pieces without return
        let leftPlastic = plastic;
        for (let j = 0; j < n; j++) {
          const isPlastic = chance.uniform() < leftPlastic / (pieces - j);
          if (isPlastic) leftPlastic--;
          if (chance.uniform() < (isPlastic ? 0.9 : 0.1)) passed++;
        }
        return { name: String(h), pieces, tested: n, passed };
      });
      const errors = {
        plastic: { k: drawBinomial(chance, 30, 0.9), n: 30 },
        others: { k: drawBinomial(chance, 30, 0.1), n: 30 },
      };
      const { total } = extrapolate(tested, errors, 0.95, i);
      if (total.lower <= truly && truly <= total.upper) covered++;
    }
    process.stdout.write(`extrapolation from 24 of 80: interval covers ${covered} of ${studies}\n`);
    expect(covered / studies).toBeGreaterThanOrEqual(0.94);
  }, 60_000);
});

describe('what a test would add', () => {
  it('a sharp test narrows more than a blunt one, and more pieces more than few', () => {
    const known = { a: 1, b: 1 };
    const sharp = { plastic: { k: 29, n: 30 }, others: { k: 1, n: 30 } };
    const blunt = { plastic: { k: 20, n: 30 }, others: { k: 12, n: 30 } };
    const gain = (test: typeof sharp, n: number) => worthTesting(known, test, n).after;
    expect(worthTesting(known, sharp, 12).now).toBeCloseTo(2 / Math.sqrt(12), 2);
    expect(gain(sharp, 12)).toBeLessThan(gain(blunt, 12));
    expect(gain(sharp, 12)).toBeLessThan(gain(sharp, 3));
    expect(gain(sharp, 0)).toBeCloseTo(worthTesting(known, sharp, 0).now, 6);
  });
});

describe('populations', () => {
  const runs = (specimenSize: number, colour: string): RunPieces[] =>
    Array.from({ length: 10 }, (_, r) => {
      const chance = chanceFrom(r + 1);
      const specimen = r < 5;
      return {
        specimen,
        sizesUm: Array.from(
          { length: 12 },
          () => 100 + 50 * chance.uniform() + (specimen ? specimenSize : 0),
        ),
        shapes: Array.from({ length: 12 }, () => (chance.uniform() < 0.5 ? 'fibre' : 'fragment')),
        colours: Array.from({ length: 12 }, () => (specimen && chance.uniform() < 0.8 ? colour : 'clear')),
      };
    });

  it('tells larger and other-coloured pieces, and does not see a difference that is not there', () => {
    const apart = comparePopulations(runs(40, 'green'))!;
    expect(apart.find((one) => one.what === 'size')).toMatchObject({ p: 2 / 252 });
    expect(apart.find((one) => one.what === 'colour')!.adjusted).toBeLessThan(0.05);
    expect(apart.find((one) => one.what === 'shape')!.adjusted).toBeGreaterThan(0.05);
    const same = comparePopulations(runs(0, 'clear'))!;
    for (const one of same) expect(one.p).toBeGreaterThan(0.05);
  });

  it('has nothing to say without pieces on both sides', () => {
    expect(comparePopulations(runs(0, 'clear').filter((run) => run.specimen))).toBeNull();
  });
});

describe('the sealed draw', () => {
  it('gives codes that tell nothing, once each, the same for the same seed', () => {
    const cards = drawCards(60, { guess: 0.5, again: 0.1 }, 5);
    expect(new Set(cards.map((card) => card.code)).size).toBe(60);
    expect([...cards].map((card) => card.of).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 60 }, (_, i) => i),
    );
    expect(cards.filter((card) => card.guess)).toHaveLength(30);
    expect(cards.filter((card) => card.again)).toHaveLength(6);
    expect(drawCards(60, { guess: 0.5, again: 0.1 }, 5)).toEqual(cards);
    expect(cards.every((card) => /^[^AEIOU]{4}$/.test(card.code))).toBe(true);
  });

  it('shows each scorer another order, repeats in a second part', () => {
    const cards = drawCards(40, { guess: 0, again: 0.25 }, 9);
    const ada = orderFor(cards, 9, 'ada');
    expect(ada).not.toEqual(orderFor(cards, 9, 'ben'));
    expect(ada).toEqual(orderFor(cards, 9, 'ada'));
    expect(ada.slice(0, 40).every((one) => one.pass === 1)).toBe(true);
    expect(ada.slice(40)).toHaveLength(10);
  });
});
