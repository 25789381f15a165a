import { describe, expect, it } from 'vitest';
import { chanceFrom, drawPoisson } from '../maths/index.ts';
import { type CountingInput, type CountingRefusal, type Judgement, judge } from './index.ts';

const portion = (count: number, massG = 1, passed = 1, examined = 1) => ({
  name: `portion of ${count}`,
  count,
  massG,
  passed,
  examined,
});
const control = (count: number, passed = 1, examined = 1) => ({
  name: `blank of ${count}`,
  kind: 'procedural blank',
  count,
  passed,
  examined,
});
const counts = (
  portions: number[],
  controls: number[],
  more: Partial<CountingInput> = {},
): CountingInput => ({
  portions: portions.map((n) => portion(n)),
  controls: controls.map((n) => control(n)),
  recovery: null,
  drill: null,
  confidence: 0.95,
  ...more,
});

function judged(input: CountingInput): Judgement {
  const outcome = judge(input);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}

function refusal(input: CountingInput): CountingRefusal {
  const outcome = judge(input);
  if (outcome.ok) throw new Error('judged, although a refusal was due');
  return outcome.refusal;
}

describe('the decision', () => {
  it('follows the exact paired rule: 5 against a blank of 0 stands out, 4 does not (Currie 2006, ACS Symp. Ser. 945)', () => {
    expect(judged(counts([5], [0])).aboveBackground).toBe(true);
    expect(judged(counts([4], [0])).aboveBackground).toBe(false);
  });

  it('needs three particles against three blanks of 0', () => {
    expect(judged(counts([3], [0, 0, 0])).aboveBackground).toBe(true);
    expect(judged(counts([2], [0, 0, 0])).aboveBackground).toBe(false);
  });

  it('says that few runs rest on Poisson scatter, and decides by relabelling when there are enough', () => {
    const few = judged(counts([9], [2]));
    expect(few.meetsMinimum).toBe(false);
    expect(few.cautions.map((c) => c.why)).toContain('controls-assumed-poisson');
    expect(few.tests.find((t) => t.primary)?.name).toBe('conditional-exact');
    const enough = judged(counts([9, 12, 8, 11], [2, 3, 1, 4]));
    expect(enough.meetsMinimum).toBe(true);
    expect(enough.tests.find((t) => t.primary)).toMatchObject({ name: 'permutation', above: true });
    expect(enough.tests.find((t) => t.primary)!.p).toBeCloseTo(1 / 70, 12);
  });

  it('is not carried away by one wild run: Poisson alone would call it, relabelling does not', () => {
    const wild = judged(counts([40, 1, 2, 1], [1, 2, 3, 2]));
    expect(wild.tests.find((t) => t.name === 'conditional-exact')!.above).toBe(true);
    expect(wild.aboveBackground).toBe(false);
    expect(wild.cautions.map((c) => c.why)).toContain('specimens-scatter');
  });

  it('counts effort: a quarter examined against a whole blank is one to four', () => {
    const input = { ...counts([], [2]), portions: [portion(5, 1, 1, 0.25)] };
    const found = judged(input);
    // P(Bin(7, 1/5) ≥ 5) = 0.004672 by hand: (21·16 + 7·4 + 1)/5⁷
    expect(found.tests[0]!.p).toBeCloseTo((21 * 16 + 7 * 4 + 1) / 5 ** 7, 12);
    expect(found.background.value).toBeCloseTo(0.5, 12);
  });
});

describe('the number', () => {
  it('is (count − background) per gram: 20 from 2 g over three blanks of 6 in all is 9 per g', () => {
    const found = judged({ ...counts([], [1, 2, 3]), portions: [portion(20, 2)] });
    expect(found.netCount).toBeCloseTo(18, 12);
    expect(found.netPerGram.value).toBeCloseTo(9, 12);
    expect(found.netPerGram.lower).toBeLessThan(9);
    expect(found.netPerGram.upper).toBeGreaterThan(9);
  });

  it('is divided by what passed, what was examined, and recovery', () => {
    const all = judged(counts([20], [0], { recovery: { found: 40, added: 50 } }));
    expect(all.netPerGram.value).toBeCloseTo(25, 12);
    const half = judged({ ...counts([], [0]), portions: [portion(20, 1, 0.5, 0.5)] });
    expect(half.netPerGram.value).toBeCloseTo(80, 12);
  });

  it('is never clipped: a count below its background stays below 0, with a word on it', () => {
    const below = judged(counts([2], [20]));
    expect(below.netCount).toBe(-18);
    expect(below.netPerGram.value).toBe(-18);
    expect(below.aboveBackground).toBe(false);
    expect(below.cautions.map((c) => c.why)).toContain('controls-above-specimens');
    expect(below.upperLimitPerGram).toBeCloseTo(2.995732, 6);
  });

  it('has an upper limit when nothing was found: 3.00 per g, one-sided 95 % (rule of three)', () => {
    const none = judged(counts([0], [0]));
    expect(none.upperLimitPerGram).toBeCloseTo(2.995732, 6);
    expect(none.netPerGram.upper).toBeCloseTo(3.688879, 6);
  });

  it('agrees with its test: the lower end passes 0 where the exact one-sided p is 2.5 %', () => {
    for (const [y, x] of [
      [6, 0],
      [5, 0],
      [9, 2],
      [10, 2],
      [25, 12],
      [27, 12],
    ] as const) {
      const found = judged(counts([y], [x]));
      expect(found.netPerGram.lower > 0, `${y} over ${x}`).toBe(found.tests[0]!.p < 0.025);
    }
  });

  it('is the same whatever the order of the runs', () => {
    const one = judged(counts([9, 12, 8, 11], [2, 3, 1, 4]));
    const other = judged(counts([11, 8, 12, 9], [4, 1, 3, 2]));
    expect(other.netPerGram).toEqual(one.netPerGram);
  });

  it('holds finite numbers only, over odd designs', () => {
    for (const input of [
      counts([0], [0]),
      counts([0, 0, 0, 0], [0, 0, 0, 0]),
      counts([1000], [0]),
      counts([0], [1000]),
      counts([5, 5, 5, 5, 5], [5, 5, 5, 5, 5]),
      counts([3], [1], { recovery: { found: 1, added: 3 } }),
      counts([3], [1], { drill: { truePositive: [18, 20], falsePositive: [2, 30] } }),
    ]) {
      const text = JSON.stringify(judged(input));
      // JSON writes NaN and Infinity as null; the only nulls allowed are the named absences
      const nulls = text.match(/"[a-zA-Z]+":null/g) ?? [];
      const allowed = [
        '"recovery":null',
        '"drill":null',
        '"naturalKept":null',
        '"scatter":null',
        '"threshold":null',
        '"deceives":null',
        '"joint":null',
        '"perPiece":null',
        '"netPerPiece":null',
      ];
      expect(nulls.filter((n) => !allowed.includes(n))).toEqual([]);
    }
  });
});

describe('the scorer’s errors', () => {
  const drilled = (
    candidates: number,
    blanks: number,
    falsePositive: readonly [number, number],
  ): CountingInput => ({
    ...counts([], []),
    portions: [18, 22, 19, 21].map((n) => ({ ...portion(n), candidates })),
    controls: [1, 2, 1, 2].map((n) => ({ ...control(n), candidates: blanks })),
    drill: { truePositive: [27, 30], falsePositive },
  });

  it('natural pieces kept are told from drill and candidates: 3 of 30 of 4 × 80 more candidates is 32', () => {
    const found = judged(drilled(100, 20, [3, 30]));
    expect(found.naturalKept!.value).toBeCloseTo(32, 10);
    expect(found.cautions.map((c) => c.why)).toContain('natural-pieces-kept');
  });

  it('are none beyond the background when controls hold as many candidates', () => {
    expect(judged(drilled(100, 100, [3, 30])).naturalKept!.value).toBe(0);
  });

  it('cannot be told without candidates, and that is said', () => {
    const found = judged(counts([9], [1], { drill: { truePositive: [27, 30], falsePositive: [3, 30] } }));
    expect(found.naturalKept).toBeNull();
    expect(found.cautions.map((c) => c.why)).toContain('drill-needs-candidates');
  });

  it('contradict the marks when far fewer candidates were kept than natural pieces in the drill', () => {
    expect(refusal(drilled(1000, 20, [15, 30])).why).toBe('below-false-positive-floor');
  });
});

describe('what was looked at', () => {
  it('widens the interval by its own uncertainty, and leaves the value', () => {
    const plain = judged(counts([90, 95, 88, 97], [2, 3, 1, 2]));
    const rough = judged({
      ...counts([], [2, 3, 1, 2]),
      portions: [90, 95, 88, 97].map((n) => ({ ...portion(n), effortUncertainty: 0.3 })),
    });
    expect(rough.netPerGram.value).toBeCloseTo(plain.netPerGram.value, 12);
    expect(rough.netPerGram.lower).toBeLessThan(plain.netPerGram.lower);
    expect(rough.netPerGram.upper).toBeGreaterThan(plain.netPerGram.upper);
    expect(refusal({ ...counts([], [1]), portions: [{ ...portion(3), effortUncertainty: 1.4 }] }).why).toBe(
      'uncertainty-out-of-range',
    );
  });
});

describe('other rules beside', () => {
  it('are marked when they part from the decision', () => {
    const equal = judged(counts([3], [2, 2, 2]));
    expect(equal.aboveBackground).toBe(false);
    const threeSd = equal.comparison.find((r) => r.name.startsWith('mean + 3 SD'))!;
    expect(threeSd).toMatchObject({ reads: 'above', agrees: false });
    expect(threeSd.deceives).toMatch(/spread is 0/);
  });

  it('cannot say from a single blank where a spread is needed', () => {
    const rule = judged(counts([5], [0])).comparison.find((r) => r.name.startsWith('mean + 3 SD'))!;
    expect(rule).toMatchObject({ reads: 'cannot say', threshold: null });
  });
});

describe('what cannot be judged', () => {
  it.each([
    ['count-not-whole', { ...counts([-1], [0]) }, '-1'],
    ['count-not-whole', { ...counts([1.5], [0]) }, '1.5'],
    ['count-not-whole', { ...counts([3], [Number.NaN]) }, 'NaN'],
    ['mass-missing', { ...counts([], [0]), portions: [portion(3, 0)] }, '0'],
    ['mass-missing', { ...counts([], [0]), portions: [portion(3, Number.NaN)] }, 'NaN'],
    ['fraction-zero', { ...counts([], [0]), portions: [portion(3, 1, 0)] }, '0'],
    ['fraction-out-of-range', { ...counts([3], []), controls: [control(1, 1, 1.2)] }, '1.2'],
    ['recovery-above-one', counts([3], [0], { recovery: { found: 55, added: 50 } }), '55/50'],
    ['recovery-zero', counts([3], [0], { recovery: { found: 0, added: 50 } }), '0/50'],
    ['recovery-not-counts', counts([3], [0], { recovery: { found: 4.5, added: 5 } }), '4.5/5'],
    ['drill-not-counts', counts([3], [0], { drill: { truePositive: [5, 0], falsePositive: [0, 9] } }), '5/0'],
    [
      'drill-contradicts',
      counts([3], [0], { drill: { truePositive: [1, 10], falsePositive: [5, 10] } }),
      '1/10',
    ],
    ['no-portions', counts([], [0]), '0 portions'],
    ['no-controls', counts([3], []), '0 controls'],
    ['confidence-out-of-range', counts([3], [0], { confidence: 95 }), '95'],
  ] as [CountingRefusal['why'], CountingInput, string][])('%s', (why, input, given) => {
    const found = refusal(input);
    expect(found.why).toBe(why);
    expect(found.given).toContain(given);
    expect(found.allowed).not.toBe('');
    expect(found.message).toContain(given);
  });
});

describe('an empty product', () => {
  // 300 studies of no release: the median net lies within three standard errors of 0 (1.25 sd/√n), and of a trace limits cover 95 %
  it.each([
    ['runs enough for the joint model', 6, 6],
    ['few runs', 2, 3],
  ])('has a net about 0 and a limit that covers, with %s', (_, n, m) => {
    const chance = chanceFrom(41);
    const studies = n > 3 ? 150 : 300;
    const nets: number[] = [];
    let covered = 0;
    for (let i = 0; i < studies; i++) {
      const draw = (runs: number, mean = 4) => Array.from({ length: runs }, () => drawPoisson(chance, mean));
      nets.push(judged(counts(draw(n), draw(m))).netPerGram.value);
      // the limit of an empty product is never below 0: it is put to the test by a trace of release
      if (judged(counts(draw(n, 4.5), draw(m))).upperLimitPerGram >= 0.5) covered++;
    }
    nets.sort((a, b) => a - b);
    const sd = Math.sqrt(4 / n + 4 / m);
    expect(Math.abs(nets[studies >> 1]!)).toBeLessThan((3 * 1.25 * sd) / Math.sqrt(studies));
    expect(covered / studies).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / studies));
  });
});
