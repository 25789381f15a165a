/** Answers, drills and subsets as they travel. */
import { type Confirmed, drillOf, verdictOf } from '../actions/index.ts';
import type { DrillJson, KnownSetJson, SubsetJson, TestAnswerJson } from '../api/index.ts';
import { benchTest, whatItSays } from '../bench/index.ts';
import {
  type BenchAnswer,
  type DrillAnswer,
  type DrillPart,
  type DrillRates,
  drillRates,
  type KnownSet,
  type Specimen,
  type Tally,
} from '../study/index.ts';

type Names = ReadonlyMap<string, string>;
const nameOf = (people: Names, id: string): string => people.get(id) ?? '';

export function answerJson(
  answer: BenchAnswer,
  of: { readonly people: Names; readonly number: number; readonly undone: boolean },
): TestAnswerJson {
  const test = benchTest(answer.test);
  return {
    id: answer.id,
    particle: answer.particle,
    number: of.number,
    test: answer.test,
    edition: answer.edition,
    value: answer.answer.value,
    setting: answer.answer.setting,
    says:
      answer.outside ?? (test ? whatItSays(test, answer.answer).says : 'This test is no longer known here.'),
    plastic: verdictOf(answer),
    outside: answer.outside,
    origin: answer.origin,
    pictures: [answer.before, answer.after].flatMap((id) => id ?? []),
    note: answer.note,
    undone: of.undone,
    by: nameOf(of.people, answer.by),
    at: answer.at,
  };
}

const tallyJson = ({ k, n, cannotTell, rate }: Tally) => ({
  k,
  n,
  cannot_tell: cannotTell,
  rate: rate && { value: rate.value, lower: rate.lower, upper: rate.upper },
});
const partJson = ({ name, plastic, others }: DrillPart) => ({
  name,
  plastic: tallyJson(plastic),
  others: tallyJson(others),
});

export function drillJson(
  test: string,
  rates: DrillRates,
  of: {
    readonly sets: readonly KnownSet[];
    readonly answers: readonly DrillAnswer[];
    readonly people: Names;
  },
): DrillJson {
  const mine = of.answers.filter((answer) => answer.test === test);
  const persons = [...new Set(mine.map((answer) => answer.by))];
  return {
    test,
    plastic: tallyJson(rates.plastic),
    others: tallyJson(rates.others),
    by_class: rates.byClass.map((one) => ({ class: one.class, tally: tallyJson(one.tally) })),
    by_size: rates.bySize.map(partJson),
    by_day: rates.byDay.map(partJson),
    by_person: persons.map((by) => {
      const { plastic, others } = drillRates(
        of.sets,
        mine.filter((answer) => answer.by === by),
      );
      return partJson({ name: nameOf(of.people, by), plastic, others });
    }),
    announced: partJson(rates.announced),
    slipped_in: partJson(rates.slippedIn),
    contradicts: [...rates.contradicts],
    enough: drillOf(rates) !== null,
    published: (benchTest(test)?.published ?? []).map(({ what, share, source }) => ({ what, share, source })),
  };
}

export const setJson = (set: KnownSet, people: Names): KnownSetJson => ({
  id: set.id,
  name: set.name,
  made: set.made,
  pieces: set.pieces.map((piece) => ({
    key: piece.key,
    material: piece.material,
    class: piece.class,
    shape: piece.shape,
    colour: piece.colour,
    size_um: piece.sizeUm,
    particle: piece.particle,
  })),
  by: nameOf(people, set.by),
  at: set.at,
});

const sideJson = (side: Confirmed['specimens']) =>
  side && {
    share: { value: side.share.value, lower: side.share.lower, upper: side.share.upper },
    pieces: side.pieces,
    tested: side.tested,
    passed: side.passed,
    below_floor: side.belowFloor,
  };

export const subsetJson = (
  confirmed: Confirmed,
  people: Names,
  specimens: readonly Specimen[] = [],
  counts = false,
): SubsetJson => {
  const { confirmation } = confirmed;
  return {
    id: confirmation.id,
    name: confirmation.name,
    test: confirmation.test,
    seed: confirmation.seed,
    strata: confirmed.strata.map((one) => ({
      name: one.name,
      side: one.side,
      pieces: one.pieces,
      drawn: one.drawn.length,
      tested: one.tested,
      passed: one.passed,
      without: one.without,
    })),
    specimens: sideJson(confirmed.specimens),
    controls: sideJson(confirmed.controls),
    by_specimen: confirmed.several
      ? specimens.map(({ id, name }) => ({
          specimen: id,
          name,
          share: sideJson(confirmed.ofSpecimen.get(id) ?? null),
        }))
      : [],
    errors_known: confirmed.drill !== null,
    counts,
    by: nameOf(people, confirmation.by),
    at: confirmation.at,
  };
};
