/** What is withdrawn of a study, read. */
import {
  type Run,
  type RunId,
  type Study,
  type StudyId,
  type WithdrawalWord,
  type WithdrawnRun,
  withdrawnNow,
} from '../study/index.ts';
import { everOf } from './known.ts';
import type { Look } from './ports.ts';

/** One thing that is withdrawn today, and the runs that do not count for it. */
export interface Withdrawn {
  readonly word: WithdrawalWord;
  readonly name: string;
  readonly runs: readonly Run[];
}

/** The runs that do not count, each with the word that took it out: its own, or else that on its portion. */
export async function withdrawnRunsOf(look: Look, study: StudyId): Promise<readonly WithdrawnRun[]> {
  const words = withdrawnNow(await look.withdrawalWords.ofStudy(study));
  if (words.length === 0) return [];
  const portions = await everOf(look.portions, study);
  return (await look.runs.withdrawnOfStudy(study)).flatMap((run) => {
    const mine = words.filter(({ subject }) => subject === run.id || subject === run.portion);
    const word = mine.find(({ subject }) => subject === run.id) ?? mine[0];
    const specimen = portions.find(({ id }) => id === run.portion)?.specimen ?? null;
    return word ? [{ run, specimen, why: word.why, countOpen: mine.some((one) => one.countOpen) }] : [];
  });
}

/** What is withdrawn of a study today, in the order in which it was said. */
export async function withdrawnOf(look: Look, study: StudyId): Promise<readonly Withdrawn[]> {
  const words = withdrawnNow(await look.withdrawalWords.ofStudy(study));
  if (words.length === 0) return [];
  const gone = await look.runs.withdrawnOfStudy(study);
  const names = new Map<string, string>(
    [
      ...gone,
      ...(await look.portions.withdrawnOfStudy(study)),
      ...(await look.procedures.withdrawnOfStudy(study)),
    ].map(({ id, name }) => [id, name]),
  );
  return words.map((word) => ({
    word,
    name: names.get(word.subject) ?? word.subject,
    runs: gone.filter((run) => run.id === word.subject || run.portion === word.subject),
  }));
}

/** What withdrawn runs count, in the sizes of the others; in no figure of a claim. Not in the map: not looked at. */
export async function withdrawnCounts(
  look: Look,
  of: { readonly study: Study; readonly sizeFromUm: number; readonly withdrawn: readonly WithdrawnRun[] },
): Promise<ReadonlyMap<RunId, number>> {
  const { sizeToUm, shapes, colours } = of.study.question;
  const scope = { sizeFromUm: of.sizeFromUm, sizeToUm, shapes, colours };
  const counts = new Map<RunId, number>();
  for (const { run, count } of await look.counts.ofRuns(
    of.withdrawn.map((one) => one.run.id),
    scope,
  ))
    if (count !== null) counts.set(run, (counts.get(run) ?? 0) + count);
  return counts;
}
