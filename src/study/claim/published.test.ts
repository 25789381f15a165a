import { describe, expect, it } from 'vitest';
import { netRatio } from '../../science/counting/index.ts';
import {
  COMPARABILITY_QUESTIONS,
  type ComparabilityAnswer,
  type ComparabilityQuestion,
  makePublishedValue,
  type PublishedValue,
} from '../records/published-value.ts';
import {
  besideRatio,
  COMPARABILITY_RULES,
  type Comparability,
  comparabilityOf,
  publishedInterval,
  publishedSentence,
} from './published.ts';

const id = (n: number) => `00000000-0000-7000-8000-${String(n).padStart(12, '0')}`;
const answers = (
  but: Partial<Record<ComparabilityQuestion, ComparabilityAnswer>> = {},
): PublishedValue['answers'] => ({
  ...(Object.fromEntries(COMPARABILITY_QUESTIONS.map((key) => [key, 'same'])) as PublishedValue['answers']),
  ...but,
});
const wish = {
  id: id(1),
  entry: id(2),
  study: id(3),
  specimen: id(4),
  stands: true,
  source: 'Invented & Co. 2020, Table 2',
  perGram: 8,
  spread: { kind: 'interval', lower: 5, upper: 12, confidence: 0.95 } as PublishedValue['spread'],
  sizeFromUm: 100 as number | null,
  sizeToUm: null as number | null,
  bands: [] as { fromUm: number; toUm: number | null; share: number }[],
  answers: answers(),
  note: '',
  by: id(5),
  at: '2026-03-01T09:00:00.000Z',
};
const published = (more: Partial<typeof wish> = {}): PublishedValue => {
  const made = makePublishedValue({ ...wish, ...more });
  if (!made.ok) throw new Error(made.refusal.message);
  return made.value;
};
const refusalOf = (more: Partial<typeof wish>) => {
  const made = makePublishedValue({ ...wish, ...more });
  return made.ok ? 'taken' : made.refusal.why;
};
const OURS = { fromUm: 100, toUm: null };
const because = (of: Comparability) => (of.verdict === 'not-comparable' ? of.because : []);

describe('whether a published value may be held against ours', () => {
  it('is comparable, whole, when every answer is the same and so are the sizes', () => {
    expect(comparabilityOf(OURS, published())).toEqual({
      verdict: 'comparable',
      sizes: OURS,
      share: 1,
      but: [],
    });
  });

  it('is barred by each barring answer alone, different or not stated, and by no other', () => {
    for (const key of COMPARABILITY_QUESTIONS) {
      for (const answer of ['different', 'not-stated'] as const) {
        const found = comparabilityOf(OURS, published({ answers: answers({ [key]: answer }) }));
        const rule = COMPARABILITY_RULES[key];
        const says = answer === 'different' ? rule.different : rule.notStated;
        if (rule.bars) expect(because(found), key).toEqual([says]);
        else expect(found, key).toMatchObject({ verdict: 'comparable', but: [says] });
      }
    }
  });

  it('counts ours again where the published sizes lie within, and rescales nothing', () => {
    const found = comparabilityOf(OURS, published({ sizeFromUm: 300, sizeToUm: 1000 }));
    expect(found).toMatchObject({ verdict: 'in-sizes', sizes: { fromUm: 300, toUm: 1000 }, share: 1 });
  });

  it('refuses smaller published sizes without a table of sizes, and takes whole bands where there is one', () => {
    const wider = { sizeFromUm: 20, sizeToUm: 5000 };
    expect(because(comparabilityOf(OURS, published(wider)))[0]).toMatch(
      /other sizes were counted \(20 to 5000 µm, here 100 µm and more\)/,
    );
    const bands = [
      { fromUm: 20, toUm: 50, share: 0.5 },
      { fromUm: 50, toUm: 200, share: 0.3 },
      { fromUm: 200, toUm: 1000, share: 0.15 },
      { fromUm: 1000, toUm: 5000, share: 0.05 },
    ];
    // the band from 50 to 200 straddles our floor of 100 and is left out, not cut
    const found = comparabilityOf(OURS, published({ ...wider, bands }));
    expect(found).toMatchObject({ verdict: 'in-sizes', sizes: { fromUm: 200, toUm: 5000 } });
    expect(found.verdict === 'in-sizes' && found.share).toBeCloseTo(0.2, 12);
    expect(besideRatio(found)).toMatch(/share of the published value/);
    const high = comparabilityOf({ fromUm: 100, toUm: 180 }, published({ ...wider, bands }));
    expect(because(high)[0]).toMatch(/no band of the published sizes lies within/);
  });

  it('refuses sizes that do not meet, and sizes that are not stated', () => {
    const apart = comparabilityOf({ fromUm: 100, toUm: 500 }, published({ sizeFromUm: 500, sizeToUm: 5000 }));
    expect(because(apart)[0]).toBe('no size was counted in both: 100 to 500 µm here, 500 to 5000 µm there');
    const silent = comparabilityOf(OURS, published({ sizeFromUm: null }));
    expect(because(silent)[0]).toMatch(/not stated/);
  });
});

describe('the record of a published value', () => {
  it('refuses what cannot be, with the reason', () => {
    expect(refusalOf({ perGram: -1 })).toBe('out-of-range');
    expect(refusalOf({ perGram: 20 })).toBe('outside-its-interval');
    expect(refusalOf({ sizeFromUm: 100, sizeToUm: 50 })).toBe('upside-down');
    expect(refusalOf({ sizeFromUm: null, sizeToUm: 50 })).toBe('upside-down');
    expect(refusalOf({ spread: { kind: 'runs', sd: 2, runs: 1 } })).toBe('out-of-range');
    expect(refusalOf({ answers: answers({ act: 'perhaps' as never }) })).toBe('not-in-list');
    const band = (fromUm: number, toUm: number | null, share: number) => ({ fromUm, toUm, share });
    expect(refusalOf({ bands: [band(100, 300, 0.5), band(400, null, 0.5)] })).toBe('bands-with-gaps');
    expect(refusalOf({ bands: [band(50, 300, 0.5), band(300, null, 0.5)] })).toBe('bands-elsewhere');
    expect(refusalOf({ bands: [band(100, 300, 0.5), band(300, null, 0.4)] })).toBe('shares-off');
    expect(refusalOf({ bands: [band(100, 300, 0.5), band(300, null, 0.49)] })).toBe('taken');
  });
});

describe('the published interval', () => {
  it('of a standard deviation between runs is Student’s interval of the mean', () => {
    // Student 1908: the ten differences of the sleep data have mean 1.58 and sd 1.2300 (0.70 to 2.46 at 95 %)
    const found = publishedInterval({ perGram: 1.58, spread: { kind: 'runs', sd: 1.23, runs: 10 } }, 1, 0.95);
    expect(found.lower).toBeCloseTo(0.7, 2);
    expect(found.upper).toBeCloseTo(2.46, 2);
  });

  it('of another confidence has its arms stretched, and of a share of the sizes is that share', () => {
    const spread = { kind: 'interval', lower: 6, upper: 13, confidence: 0.6826894921370859 } as const;
    const found = publishedInterval({ perGram: 8, spread }, 0.5, 0.95);
    // one standard deviation to 1.959964 of them
    expect(found.lower).toBeCloseTo(0.5 * (8 - 2 * 1.959964), 5);
    expect(found.upper).toBeCloseTo(0.5 * (8 + 5 * 1.959964), 5);
    expect(found.value).toBe(4);
  });
});

describe('the sentence', () => {
  const ours = { value: 20, lower: 14, upper: 28, confidence: 0.95 };
  const held = (more: Partial<typeof wish> = {}) => {
    const value = published(more);
    const comparability = comparabilityOf(OURS, value);
    if (comparability.verdict === 'not-comparable')
      return { comparability, ours: null, ratio: null, refusal: null };
    const ratio = netRatio(ours, publishedInterval(value, comparability.share, 0.95));
    return {
      comparability,
      ours,
      ratio: ratio.ok ? ratio.value : null,
      refusal: ratio.ok ? null : ratio.refusal.message,
    };
  };

  it('gives the ratio with its interval and its sizes', () => {
    // closed form of Donner & Zou 2012 for 20 (14 to 28) over 8 (5 to 12): 2.5 (1.455 to 4.443)
    expect(publishedSentence(held())).toBe(
      'Comparable over all sizes counted here (100 µm and more): here 2.5 times the published value per gram (1.5 to 4.4, 95 % interval).',
    );
  });

  it('takes a value without an interval as exact, and says so', () => {
    const found = held({ spread: { kind: 'none' } });
    expect(found.ratio!.lower).toBeCloseTo(14 / 8, 9);
    expect(found.ratio!.upper).toBeCloseTo(28 / 8, 9);
    expect(besideRatio(found.comparability)).toMatch(/^No interval was published/);
  });

  it('says that two values are not told apart, and that no upper end can be given', () => {
    expect(
      publishedSentence(
        held({ perGram: 20, spread: { kind: 'interval', lower: 12, upper: 31, confidence: 0.95 } }),
      ),
    ).toMatch(/A ratio of 1 lies within: the values are not told apart\.$/);
    expect(
      publishedSentence(held({ spread: { kind: 'interval', lower: 0, upper: 18, confidence: 0.95 } })),
    ).toMatch(/at least .*no upper end can be given/);
  });

  it('gives none where the values may not be compared', () => {
    const sentence = publishedSentence(
      held({ answers: answers({ identified: 'different', act: 'not-stated' }) }),
    );
    expect(sentence).toBe(
      'Not comparable: pieces were identified in another way; what was done to the product is not stated.',
    );
  });
});
