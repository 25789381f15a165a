/** Whether a study's own net may be held against a published one, over which sizes, and what their ratio then is. */
import type { Interval, RatioInterval } from '../../science/counting/index.ts';
import { normalQuantile, studentUpperQuantile } from '../../science/maths/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type {
  ComparabilityAnswer,
  ComparabilityQuestion,
  PublishedBand,
  PublishedValue,
} from '../records/published-value.ts';
import { percent, twoFigures } from './figures.ts';

export interface SizeRange {
  readonly fromUm: number;
  /** Null: no upper end. */
  readonly toUm: number | null;
}

/** What a question is about, and whether “different” or “not stated” bars the comparison or is only said beside it. */
export interface ComparabilityRule {
  readonly asks: string;
  readonly bars: boolean;
  readonly different: string;
  readonly notStated: string;
}

/**
 * What makes two published counts comparable. Which items there are: reporting guidelines (Cowger et al. 2020, Appl.
 * Spectrosc. 74:1066; Koelmans et al. 2019, Water Res. 155:410). Which of them bar: common practice, no source.
 */
export const COMPARABILITY_RULES: Readonly<Record<ComparabilityQuestion, ComparabilityRule>> = {
  'what-counts': {
    asks: 'What counts as a particle: shapes, colours, materials',
    bars: true,
    different: 'other things were counted',
    notStated: 'what was counted is not stated',
  },
  'how-sized': {
    asks: 'Which dimension is the size (longest, smallest, of equal area)',
    bars: true,
    different: 'sizes were measured along another dimension',
    notStated: 'which dimension is the size is not stated',
  },
  identified: {
    asks: 'How pieces were identified: by eye, by melting, by a spectrum',
    bars: true,
    different: 'pieces were identified in another way',
    notStated: 'how pieces were identified is not stated',
  },
  background: {
    asks: 'Background taken away, and by which controls',
    bars: true,
    different: 'the background was dealt with in another way',
    notStated: 'whether a background was taken away is not stated',
  },
  basis: {
    asks: 'Per gram of what: product or food, before or after, wet or dry',
    bars: true,
    different: 'the gram is of something else',
    notStated: 'what the gram is of is not stated',
  },
  recovery: {
    asks: 'Corrected for recovery, or not',
    bars: true,
    different: 'one value is corrected for recovery and the other is not',
    notStated: 'whether the value is corrected for recovery is not stated',
  },
  act: {
    asks: 'The act: what was done, how long, how hot, in which liquid',
    bars: true,
    different: 'something else was done to the product',
    notStated: 'what was done to the product is not stated',
  },
  product: {
    asks: 'The product and its state: material, new or worn',
    bars: false,
    different: 'the products differ, so the ratio is one between products too',
    notStated: 'the state of the published product is not stated',
  },
  digestion: {
    asks: 'Digestion and other treatment before counting',
    bars: false,
    different: 'the samples were treated in another way, and may have lost other pieces',
    notStated: 'how the published samples were treated is not stated',
  },
  filter: {
    asks: 'Filter: material and pore',
    bars: false,
    different: 'the filters differ, and may have kept back other pieces near the smallest size',
    notStated: 'the published filter is not stated',
  },
};

/** Whether, and over which sizes. `share`: the part of the published value that lies there. */
export type Comparability =
  | {
      readonly verdict: 'comparable' | 'in-sizes';
      readonly sizes: SizeRange;
      readonly share: number;
      /** Said beside the ratio. */
      readonly but: readonly string[];
    }
  | { readonly verdict: 'not-comparable'; readonly because: readonly string[] };

const least = (a: number | null, b: number | null): number | null =>
  a === null ? b : b === null ? a : Math.min(a, b);
const below = (a: number, to: number | null): boolean => to === null || a < to;
const within = (inner: SizeRange, outer: SizeRange): boolean =>
  inner.fromUm >= outer.fromUm && (outer.toUm === null || (inner.toUm !== null && inner.toUm <= outer.toUm));
const same = (a: SizeRange, b: SizeRange): boolean => a.fromUm === b.fromUm && a.toUm === b.toUm;

/** “100 to 1000 µm”, “100 µm and more”. */
export const sizeWords = ({ fromUm, toUm }: SizeRange): string =>
  toUm === null ? `${Math.round(fromUm)} µm and more` : `${Math.round(fromUm)} to ${Math.round(toUm)} µm`;

/** The widest run of whole bands within a range, with its share; null where none lies within. */
function bandsWithin(
  bands: readonly PublishedBand[],
  range: SizeRange,
): (SizeRange & { share: number }) | null {
  const inside = bands.filter((band) => within(band, range));
  const [first, last] = [inside[0], inside[inside.length - 1]];
  if (!first || !last) return null;
  return {
    fromUm: first.fromUm,
    toUm: last.toUm,
    share: inside.reduce((sum, band) => sum + band.share, 0),
  };
}

function sizesOf(ours: SizeRange, published: PublishedValue): Outcome<SizeRange & { share: number }> {
  const no = (message: string) => refused({ why: 'other-sizes', message });
  if (published.sizeFromUm === null) {
    return no('from what size on was counted is not stated');
  }
  const theirs: SizeRange = { fromUm: published.sizeFromUm, toUm: published.sizeToUm };
  const common: SizeRange = {
    fromUm: Math.max(ours.fromUm, theirs.fromUm),
    toUm: least(ours.toUm, theirs.toUm),
  };
  if (!below(common.fromUm, common.toUm)) {
    return no(`no size was counted in both: ${sizeWords(ours)} here, ${sizeWords(theirs)} there`);
  }
  // Where the published sizes lie within ours, our own pieces are counted again over them: nothing is rescaled.
  if (same(common, theirs)) return done({ ...common, share: 1 });
  if (published.bands.length === 0) {
    return no(
      `other sizes were counted (${sizeWords(theirs)}, here ${sizeWords(ours)}), and how the published pieces spread over sizes is not given`,
    );
  }
  const found = bandsWithin(published.bands, common);
  return found
    ? done(found)
    : no(`no band of the published sizes lies within those counted in both (${sizeWords(common)})`);
}

/**
 * Comparable, comparable over some sizes only, or not, and why. The study's own pieces can be counted again over any sizes
 * within its own; a published value only in the bands that it is given in. It is never stretched by an assumed
 * law of sizes: exponents for fresh wear are not known.
 * Holds for: values per gram.  Deceives when: answers are guessed; “not stated” is an answer.
 */
export function comparabilityOf(ours: SizeRange, published: PublishedValue): Comparability {
  const because: string[] = [];
  const but: string[] = [];
  for (const [key, rule] of Object.entries(COMPARABILITY_RULES) as [
    ComparabilityQuestion,
    ComparabilityRule,
  ][]) {
    const answer: ComparabilityAnswer = published.answers[key];
    if (answer === 'same') continue;
    (rule.bars ? because : but).push(answer === 'different' ? rule.different : rule.notStated);
  }
  const sizes = sizesOf(ours, published);
  if (!sizes.ok) because.push(sizes.refusal.message);
  if (because.length > 0 || !sizes.ok) return { verdict: 'not-comparable', because };
  const { share, ...range } = sizes.value;
  if (share < 1)
    but.push(
      'the share of the published value in these sizes has an uncertainty of its own, not in the interval',
    );
  if (published.spread.kind === 'none') {
    but.push(
      'no interval was published: the ratio takes the published value as exact, and is less certain than it looks',
    );
  }
  return { verdict: same(range, ours) && share === 1 ? 'comparable' : 'in-sizes', sizes: range, share, but };
}

/**
 * The published value, or the share of it in some sizes, with an interval of the confidence asked for.
 * A standard deviation between runs gives Student's interval of their mean (Student 1908, Biometrika 6:1); an interval of
 * another confidence has its arms stretched by the ratio of normal quantiles (common practice, no source).
 */
export function publishedInterval(
  { perGram, spread }: Pick<PublishedValue, 'perGram' | 'spread'>,
  share: number,
  confidence: number,
): Interval {
  const of = (lower: number, upper: number): Interval => ({
    value: share * perGram,
    lower: share * lower,
    upper: share * upper,
    confidence,
  });
  if (spread.kind === 'none') return of(perGram, perGram);
  if (spread.kind === 'runs') {
    const t = studentUpperQuantile((1 - confidence) / 2, spread.runs - 1);
    const half = (t * spread.sd) / Math.sqrt(spread.runs);
    return of(perGram - half, perGram + half);
  }
  const stretch = normalQuantile((1 + confidence) / 2) / normalQuantile((1 + spread.confidence) / 2);
  return of(perGram - stretch * (perGram - spread.lower), perGram + stretch * (spread.upper - perGram));
}

/** What is worked out for one published value. */
export interface HeldAgainst {
  readonly comparability: Comparability;
  readonly ours: Interval | null;
  readonly ratio: RatioInterval | null;
  readonly refusal: string | null;
}

const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The answer in one sentence or two; no ratio without its sizes and interval, and none where values may not be compared. */
export function publishedSentence({ comparability, ratio, refusal }: HeldAgainst): string {
  if (comparability.verdict === 'not-comparable') {
    return `Not comparable: ${comparability.because.join('; ')}.`;
  }
  const sizes = sizeWords(comparability.sizes);
  const head =
    comparability.verdict === 'comparable'
      ? `Comparable over all sizes counted here (${sizes})`
      : `Comparable only over ${sizes}`;
  if (ratio === null) return `${head}, but there is no ratio: ${refusal ?? 'nothing was worked out'}`;
  const { value, lower, upper: top, confidence } = ratio;
  const range =
    top === null
      ? `at least ${twoFigures(lower)}; no upper end can be given`
      : `${twoFigures(lower)} to ${twoFigures(top)}`;
  const one =
    top !== null && lower <= 1 && top >= 1 ? ' A ratio of 1 lies within: the values are not told apart.' : '';
  return `${head}: here ${twoFigures(value)} times the published value per gram (${range}, ${percent(confidence)} interval).${one}`;
}

/** What has to be said beside the ratio, as one sentence; empty where nothing has. */
export const besideRatio = (comparability: Comparability): string =>
  comparability.verdict === 'not-comparable' || comparability.but.length === 0
    ? ''
    : `${upper(comparability.but.join('; '))}.`;
