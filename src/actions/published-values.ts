/** Published values, the study's own net over the same sizes, and whether the two may be compared. */
import type { Interval, RatioInterval } from '../science/counting/index.ts';
import { judge, netRatio } from '../science/counting/index.ts';
import {
  type AsGiven,
  type Comparability,
  type ComparabilityQuestion,
  comparabilityOf,
  makePublishedValue,
  type PublishedValue,
  publishedInterval,
  type SizeRange,
  type Study,
  studyInput,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { candidatesOf } from './candidates.ts';
import { recountedIn } from './claim-details.ts';
import { countStudy } from './count-runs.ts';
import { asId, known } from './known.ts';
import type { Desk, Look, Tools } from './ports.ts';
import { hereOf } from './published-here.ts';
import { SEED, type SpecimenStanding, type Standing, standingFrom } from './standing.ts';
import { inputWith } from './standing-evidence.ts';

/** One comparison as it stands: its newest edition, and what follows from it. */
export interface PublishedComparison {
  readonly published: PublishedValue;
  /** Editions of it, this one included. */
  readonly editions: number;
  readonly comparability: Comparability;
  /** The study's own net per gram over the sizes compared; null where nothing is compared. */
  readonly ours: Interval | null;
  /** The published value over the same sizes, with an interval of the same confidence. */
  readonly theirs: Interval | null;
  readonly ratio: RatioInterval | null;
  /** Why there is no ratio though the values are comparable. */
  readonly refusal: string | null;
}

export interface PublishedComparisons {
  readonly ownSizes: SizeRange;
  /** What this study did about each question. */
  readonly here: Readonly<Record<ComparabilityQuestion, string>>;
  readonly comparisons: readonly PublishedComparison[];
}

/** Editions of every entry, oldest first, in the order in which the entries were begun. */
function editionsByEntry(all: readonly PublishedValue[]): ReadonlyMap<string, readonly PublishedValue[]> {
  const entries = new Map<string, PublishedValue[]>();
  for (const one of all) entries.set(one.entry, [...(entries.get(one.entry) ?? []), one]);
  return entries;
}

/** Every published value of a study against its own net; those taken back come along, with nothing worked out. */
export async function publishedOf(look: Look, study: Study, stands: Standing): Promise<PublishedComparisons> {
  const entries = editionsByEntry(await look.publishedValues.ofStudy(study.id));
  const ownSizes = { fromUm: stands.counted.sizeFromUm, toUm: study.question.sizeToUm };
  const here = hereOf(study, stands, stands.counted.runs, await look.editions.ofStudy(study.id));
  const comparisons: PublishedComparison[] = [];
  for (const editions of entries.values()) {
    const published = editions[editions.length - 1]!;
    const comparability = comparabilityOf(ownSizes, published);
    const compared = published.stands
      ? await compare(look, study, stands, published, comparability)
      : NOTHING;
    comparisons.push({ published, editions: editions.length, comparability, ...compared });
  }
  return { ownSizes, here, comparisons };
}

type Compared = Pick<PublishedComparison, 'ours' | 'theirs' | 'ratio' | 'refusal'>;

const NOTHING: Compared = { ours: null, theirs: null, ratio: null, refusal: null };

async function compare(
  look: Look,
  study: Study,
  stands: Standing,
  published: PublishedValue,
  comparability: Comparability,
): Promise<Compared> {
  if (comparability.verdict === 'not-comparable') return NOTHING;
  const mine = stands.specimens.find(({ specimen }) => specimen.id === published.specimen);
  if (!mine || mine.claim.netPerGram === null) {
    return {
      ...NOTHING,
      refusal: 'This study states no net for the specimen yet: there is nothing to compare.',
    };
  }
  const ours =
    comparability.verdict === 'comparable'
      ? done(mine.claim.netPerGram)
      : await netIn(look, study, stands, mine, comparability.sizes);
  if (!ours.ok) return { ...NOTHING, refusal: ours.refusal.message };
  const theirs = publishedInterval(published, comparability.share, ours.value.confidence);
  const ratio = netRatio(ours.value, theirs);
  return ratio.ok
    ? { ours: ours.value, theirs, ratio: ratio.value, refusal: null }
    : { ours: ours.value, theirs, ratio: null, refusal: ratio.refusal.message };
}

/** The study's own net over other sizes within its own, from the pieces themselves. */
async function netIn(
  look: Look,
  study: Study,
  { counted }: Standing,
  { specimen }: SpecimenStanding,
  sizes: SizeRange,
): Promise<Outcome<Interval>> {
  const pieces = (await candidatesOf(look, study, [])).flatMap(({ particle, run }) =>
    particle.standing === 'dropped' ? [] : [{ run: run.name, particle }],
  );
  const { runs } = recountedIn(counted, pieces, sizes.fromUm, sizes.toUm);
  const plain = studyInput(runs, specimen.id, study.question.decision.confidence, counted.history);
  const judged = judge(inputWith(plain, counted, specimen, SEED).input, { seed: SEED });
  return judged.ok ? done(judged.value.netPerGram) : refused(judged.refusal);
}

export const publishedComparisons = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string },
): Promise<Outcome<PublishedComparisons>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    return done(await publishedOf(look, study.value, standingFrom(await countStudy(look, study.value))));
  });

type Given = AsGiven<Omit<PublishedValue, 'id' | 'entry' | 'stands' | 'at'>>;

/** A new comparison, or a further edition of the one named. */
export const writePublished = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: Given & { readonly entry: string | null },
): Promise<Outcome<PublishedValue>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const specimen = await known(desk.specimens.get(asId(wish.specimen)), 'specimen', wish.specimen);
    if (!specimen.ok) return specimen;
    if (specimen.value.study !== study.value.id) {
      return refused({ why: 'other-study', message: 'The specimen belongs to another study.' });
    }
    const before = wish.entry === null ? null : await newestOf(desk, wish.study, wish.entry);
    if (before && !before.ok) return before;
    return append(desk, {
      ...wish,
      id: names.next<'published-value'>(),
      entry: before?.value.entry ?? names.next<'published-entry'>(),
      stands: true,
      at: clock.now(),
    });
  });

/** Takes a comparison back or puts it back, by a further edition with the same content. */
export const setPublishedStanding = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly study: string; readonly entry: string; readonly stands: boolean; readonly by: string },
): Promise<Outcome<PublishedValue>> =>
  records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const before = await newestOf(desk, wish.study, wish.entry);
    if (!before.ok) return before;
    if (before.value.stands === wish.stands) return before;
    return append(desk, {
      ...before.value,
      id: names.next<'published-value'>(),
      stands: wish.stands,
      by: wish.by,
      at: clock.now(),
    });
  });

async function newestOf(desk: Desk, study: string, entry: string): Promise<Outcome<PublishedValue>> {
  const editions = editionsByEntry(await desk.publishedValues.ofStudy(asId(study))).get(entry);
  return known(Promise.resolve(editions?.at(-1) ?? null), 'published-value', entry);
}

async function append(desk: Desk, record: AsGiven<PublishedValue>): Promise<Outcome<PublishedValue>> {
  const made = makePublishedValue(record);
  if (made.ok) await desk.publishedValues.add(made.value);
  return made;
}
