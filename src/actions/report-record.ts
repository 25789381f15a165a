/** What a report says of things withdrawn, moved and set aside. */
import type { ReportFacts } from '../report/index.ts';
import type { RunId, Study } from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';
import { everOf } from './known.ts';
import type { Look } from './ports.ts';
import { withdrawnCounts } from './withdrawn-runs.ts';

/** All that was withdrawn or put back, as it was said; of a run also what it counts that is in no figure. */
export async function withdrawalFacts(
  look: Look,
  counted: CountedStudy,
  people: ReadonlyMap<string, string>,
): Promise<ReportFacts['withdrawals']> {
  const { id } = counted.study;
  const words = await look.withdrawalWords.ofStudy(id);
  if (words.length === 0) return [];
  const gone = await withdrawnCounts(look, counted);
  const names = new Map<string, string>(
    [
      ...counted.runs.map(({ run }) => run),
      ...counted.withdrawn.map(({ run }) => run),
      ...(await everOf(look.portions, id)),
      ...(await everOf(look.procedures, id)),
    ].map((one) => [one.id, one.name]),
  );
  return words.map(({ what, subject, withdrawn, why, countOpen, at, by }) => ({
    at,
    what,
    name: names.get(subject) ?? '',
    withdrawn,
    why,
    countOpen,
    counted: gone.get(subject as RunId) ?? null,
    by: people.get(by) ?? '',
  }));
}

/** Photographs that were moved or set aside, in the order in which it was said. */
export async function movesFacts(
  look: Look,
  study: Study,
  people: ReadonlyMap<string, string>,
): Promise<ReportFacts['moves']> {
  const filters = new Map((await look.filters.ofStudy(study.id)).map((filter) => [filter.id, filter.name]));
  return (await look.photoMoves.ofStudy(study.id)).map(({ at, name, filter, why, by }) => ({
    at,
    photo: name,
    to: filter && (filters.get(filter) ?? filter),
    why,
    by: people.get(by) ?? '',
  }));
}
