/** Published values held against a study, over HTTP. */
import {
  type PublishedComparison,
  type PublishedComparisons,
  publishedComparisons,
  setPublishedStanding,
  writePublished,
} from '../actions/index.ts';
import type {
  PUBLISHED_ROUTES,
  PublishedAnswer,
  PublishedJson,
  PublishedStandingWish,
  PublishedWish,
} from '../api/index.ts';
import { intervalJson } from '../api/index.ts';
import {
  COMPARABILITY_QUESTIONS,
  COMPARABILITY_RULES,
  type PublishedValue,
  publishedSentence,
  type SizeRange,
} from '../study/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import type { Served } from './served.ts';

const sizesJson = ({ fromUm, toUm }: SizeRange) => ({ from_um: fromUm, to_um: toUm });
const entryAlone = ({ entry }: PublishedValue) => ({ entry });

function valueJson(one: PublishedComparison, names: ReadonlyMap<string, string>): PublishedJson {
  const { published: value, comparability, ratio } = one;
  const compared = comparability.verdict === 'not-comparable' ? null : comparability;
  return {
    entry: value.entry,
    stands: value.stands,
    by: names.get(value.by) ?? 'somebody',
    at: value.at,
    editions: one.editions,
    published: {
      specimen: value.specimen,
      source: value.source,
      per_gram: value.perGram,
      spread: value.spread,
      size_from_um: value.sizeFromUm,
      size_to_um: value.sizeToUm,
      bands: value.bands.map(({ fromUm, toUm, share }) => ({ from_um: fromUm, to_um: toUm, share })),
      answers: value.answers,
      note: value.note,
    },
    verdict: comparability.verdict,
    sizes: compared ? sizesJson(compared.sizes) : null,
    share: compared?.share ?? null,
    because: comparability.verdict === 'not-comparable' ? [...comparability.because] : [],
    but: compared ? [...compared.but] : [],
    ours_per_gram: one.ours ? intervalJson(one.ours) : null,
    theirs_per_gram: one.theirs ? intervalJson(one.theirs) : null,
    ratio: ratio ? { ...ratio } : null,
    sentence: publishedSentence(one),
  };
}

function answerJson(of: PublishedComparisons, names: ReadonlyMap<string, string>): PublishedAnswer {
  return {
    own_sizes: sizesJson(of.ownSizes),
    questions: COMPARABILITY_QUESTIONS.map((key) => {
      const { asks, bars } = COMPARABILITY_RULES[key];
      return { key, asks, bars, here: of.here[key] };
    }),
    values: of.comparisons.map((one) => valueJson(one, names)),
  };
}

export const publishedAnswers = (
  served: Served,
): Readonly<Record<keyof typeof PUBLISHED_ROUTES, Answering>> => ({
  published: async (c) => {
    const people = await served.records.look((look) => look.people.list());
    const names = new Map(people.map(({ id, name }) => [id as string, name]));
    return answered(c, await publishedComparisons(served, { study: part(c, 'study') }), (found) =>
      answerJson(found, names),
    );
  },
  writePublished: async (c) => {
    const wish = valid<PublishedWish>(c, 'json');
    const given = {
      entry: wish.entry,
      study: part(c, 'study'),
      specimen: wish.specimen,
      source: wish.source,
      perGram: wish.per_gram,
      spread: wish.spread,
      sizeFromUm: wish.size_from_um,
      sizeToUm: wish.size_to_um,
      bands: wish.bands.map(({ from_um, to_um, share }) => ({ fromUm: from_um, toUm: to_um, share })),
      answers: wish.answers,
      note: wish.note,
      by: served.person,
    };
    return answered(c, await writePublished(served, given), entryAlone);
  },
  setPublishedStanding: async (c) => {
    const { stands } = valid<PublishedStandingWish>(c, 'json');
    const wish = { study: part(c, 'study'), entry: part(c, 'entry'), stands, by: served.person };
    return answered(c, await setPublishedStanding(served, wish), entryAlone);
  },
});
