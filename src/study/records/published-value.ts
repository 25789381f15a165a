/** A value that somebody published, and what is known of whether a study's own may be held against it. */
import type { PersonId } from './laboratory.ts';
import {
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  notNegative,
  number,
  oneOf,
  orNull,
  positive,
  record,
  text,
  yesOrNo,
} from './rules.ts';
import type { SpecimenId } from './specimen.ts';
import type { StudyId } from './study.ts';

/** What makes two counts per gram comparable; sizes are asked as numbers, not in this list. */
export const COMPARABILITY_QUESTIONS = [
  'what-counts',
  'how-sized',
  'identified',
  'background',
  'basis',
  'recovery',
  'act',
  'product',
  'digestion',
  'filter',
] as const;
export type ComparabilityQuestion = (typeof COMPARABILITY_QUESTIONS)[number];

export const COMPARABILITY_ANSWERS = ['same', 'different', 'not-stated'] as const;
export type ComparabilityAnswer = (typeof COMPARABILITY_ANSWERS)[number];

/** The share of the published pieces within a size band; `toUm` null: no upper end. */
export interface PublishedBand {
  readonly fromUm: number;
  readonly toUm: number | null;
  readonly share: number;
}

/** How uncertain the publication says that its value is. */
export type PublishedSpread =
  | { readonly kind: 'none' }
  | {
      readonly kind: 'interval';
      readonly lower: number;
      readonly upper: number;
      readonly confidence: number;
    }
  /** Standard deviation between so many runs. */
  | { readonly kind: 'runs'; readonly sd: number; readonly runs: number };

/**
 * One edition of a comparison; the newest of its `entry` stands, and none once that one says that it does not.
 * Changing, taking back and putting back append; nothing is changed.
 */
export interface PublishedValue {
  readonly id: Id<'published-value'>;
  /** Keeps the editions of one comparison together. */
  readonly entry: Id<'published-entry'>;
  readonly study: StudyId;
  readonly specimen: SpecimenId;
  readonly stands: boolean;
  /** Where it was published, so that a reader finds it. */
  readonly source: string;
  /** Particles per gram, background taken away or not as the answers say. */
  readonly perGram: number;
  readonly spread: PublishedSpread;
  /** Null: the publication does not say from what size on it counted. */
  readonly sizeFromUm: number | null;
  /** Null: no upper end. */
  readonly sizeToUm: number | null;
  /** How the published pieces are spread over sizes; empty: not given. */
  readonly bands: readonly PublishedBand[];
  readonly answers: Readonly<Record<ComparabilityQuestion, ComparabilityAnswer>>;
  readonly note: string;
  readonly by: PersonId;
  readonly at: Instant;
}

/** Shares off a printed figure need not add to one exactly. */
const SHARES_OFF = 0.02;

const spread = (value: unknown, what: string) => {
  const { kind } = (value ?? {}) as { kind?: unknown };
  if (kind === 'none') return null;
  if (kind === 'interval') {
    return record<Extract<PublishedSpread, { kind: 'interval' }>>({
      kind: oneOf(['interval']),
      lower: number({}),
      upper: number({}),
      confidence: number({ from: 0.5, to: 0.9999 }),
    })(value, what);
  }
  return record<Extract<PublishedSpread, { kind: 'runs' }>>({
    kind: oneOf(['runs']),
    sd: notNegative,
    runs: number({ from: 2, whole: true }),
  })(value, what);
};

const wrong = (why: string, message: string) => ({ why, message: `published value, ${message}` });

function sense({ perGram, spread: of, sizeFromUm, sizeToUm, bands }: PublishedValue) {
  if (of.kind === 'interval' && !(of.lower <= perGram && perGram <= of.upper)) {
    return wrong(
      'outside-its-interval',
      `interval: ${perGram} does not lie between ${of.lower} and ${of.upper}; give the lower and the upper end.`,
    );
  }
  if (sizeFromUm === null ? sizeToUm !== null : sizeToUm !== null && sizeToUm <= sizeFromUm) {
    return wrong(
      'upside-down',
      'sizes: the upper end must lie above the lower one; leave both empty where none is stated.',
    );
  }
  if (bands.length === 0) return null;
  const gap = bands.find((band, at) => at > 0 && bands[at - 1]!.toUm !== band.fromUm);
  const hollow = bands.find(({ fromUm, toUm }) => toUm !== null && toUm <= fromUm);
  if (gap || hollow) {
    return wrong(
      'bands-with-gaps',
      `sizes, bands: each must begin where the one before ends; look at ${(gap ?? hollow)!.fromUm} µm.`,
    );
  }
  if (bands[0]!.fromUm !== sizeFromUm || bands[bands.length - 1]!.toUm !== sizeToUm) {
    return wrong(
      'bands-elsewhere',
      'sizes, bands: the first must begin and the last end where the published sizes do.',
    );
  }
  const sum = bands.reduce((all, { share }) => all + share, 0);
  return Math.abs(sum - 1) > SHARES_OFF
    ? wrong(
        'shares-off',
        `sizes, bands: the shares must add to 100 %; they add to ${Math.round(100 * sum)} %.`,
      )
    : null;
}

const anAnswer = oneOf(COMPARABILITY_ANSWERS);

export const makePublishedValue = maker<PublishedValue>(
  'published value',
  {
    id: anId,
    entry: anId,
    study: anId,
    specimen: anId,
    stands: yesOrNo,
    source: text(1, 1000, true),
    perGram: notNegative,
    spread,
    sizeFromUm: orNull(positive),
    sizeToUm: orNull(positive),
    bands: listOf(
      record<PublishedBand>({ fromUm: positive, toUm: orNull(positive), share: number({ from: 0, to: 1 }) }),
      100,
    ),
    answers: record<PublishedValue['answers']>(
      Object.fromEntries(COMPARABILITY_QUESTIONS.map((key) => [key, anAnswer])) as Record<
        ComparabilityQuestion,
        typeof anAnswer
      >,
    ),
    note: aNote,
    by: anId,
    at: anInstant,
  },
  sense,
);
