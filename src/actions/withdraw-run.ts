/** Runs, portions and procedures are withdrawn with a reason, and put back; nothing of theirs is changed. */
import {
  fewOf,
  makeWithdrawalWord,
  type Returning,
  type Run,
  type StudyId,
  type WithdrawalWord,
} from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { asId, everOf, known } from './known.ts';
import type { Desk, Look, Tools } from './ports.ts';

export interface ReturningWish {
  readonly study: string;
  readonly what: Returning;
  readonly subject: string;
  /** False: put back. */
  readonly withdrawn: boolean;
  readonly why: string;
  readonly by: string;
}

/**
 * Withdraws a run, a portion with its runs, or a procedure that no counting run follows; or puts it back. Whether a count
 * could be read then is taken from the records, not from whoever withdraws.
 */
export const withdrawOrPutBack = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: ReturningWish,
): Promise<Outcome<WithdrawalWord>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const shelf = { run: desk.runs, portion: desk.portions, procedure: desk.procedures }[wish.what];
    const there = wish.withdrawn
      ? await shelf.ofStudy(study.value.id)
      : await shelf.withdrawnOfStudy(study.value.id);
    const subject = there.find(({ id }) => id === wish.subject);
    if (!subject) {
      return refused({
        why: `no-such-${wish.what}`,
        message: wish.withdrawn
          ? `This study has no such ${wish.what} that stands; read the list anew.`
          : `This study has no such ${wish.what} that is withdrawn; read the list anew.`,
      });
    }
    const held = wish.withdrawn
      ? await heldBy(desk, study.value.id, wish, subject.name)
      : await awaits(desk, study.value.id, wish, subject.name);
    if (held) return refused({ why: 'still-used', message: held });
    const made = makeWithdrawalWord({
      ...wish,
      study: study.value.id,
      countOpen: await countOpen(desk, study.value.id, wish),
      id: names.next(),
      at: clock.now(),
    });
    if (made.ok) await desk.withdrawalWords.add(made.value);
    return made;
  });

const named = (runs: readonly Run[]): string =>
  fewOf(
    runs.map(({ name }) => `“${name}”`),
    6,
  );

async function followers(desk: Desk, study: StudyId, procedure: string): Promise<readonly Run[]> {
  const editions = new Set<string>(
    (await desk.editions.ofStudy(study)).filter((one) => one.procedure === procedure).map(({ id }) => id),
  );
  return (await desk.runs.ofStudy(study)).filter(({ edition }) => editions.has(edition));
}

/** What still leans on it, in a sentence; null where nothing does. */
async function heldBy(
  desk: Desk,
  study: StudyId,
  { what, subject }: ReturningWish,
  name: string,
): Promise<string | null> {
  if (what !== 'procedure') return null;
  const runs = await followers(desk, study, subject);
  return runs.length === 0
    ? null
    : `The procedure “${name}” stays: ${runs.length === 1 ? 'run' : 'runs'} ${named(runs)} followed it and ${runs.length === 1 ? 'counts' : 'count'}. Withdraw what should not count first.`;
}

/** What has to be put back first, in a sentence; null where nothing has. */
async function awaits(
  desk: Desk,
  study: StudyId,
  { what, subject }: ReturningWish,
  name: string,
): Promise<string | null> {
  if (what === 'procedure') return null;
  const gone = await desk.runs.withdrawnOfStudy(study);
  const back = gone.filter((run) => run.id === subject || run.portion === subject);
  if (what === 'run') {
    const portions = await desk.portions.withdrawnOfStudy(study);
    const portion = portions.find(({ id }) => id === back[0]?.portion);
    if (portion)
      return `Run “${name}” went along with its portion “${portion.name}”; put the portion back first.`;
  }
  const procedures = await desk.procedures.withdrawnOfStudy(study);
  for (const run of back) {
    const edition = await desk.editions.get(run.edition);
    const procedure = procedures.find(({ id }) => id === edition?.procedure);
    if (procedure)
      return `Run “${run.name}” followed the procedure “${procedure.name}”, which is withdrawn; put that back first.`;
  }
  const others = (await desk.runs.ofStudy(study)).filter((run) =>
    back.some(({ kind, portion }) => kind === 'specimen' && portion !== null && portion === run.portion),
  );
  return others.length === 0
    ? null
    : `The portion of run “${back[0]!.name}” was used by run ${named(others)} since; a portion serves one run. Withdraw that one first.`;
}

/** Whether a photograph of the run, or of a run of the portion, was searched: then its count stood open to all who may work. */
async function countOpen(look: Look, study: StudyId, { what, subject }: ReturningWish): Promise<boolean> {
  if (what === 'procedure') return false;
  const runs = (await everOf(look.runs, study))
    .filter((run) => run.id === subject || run.portion === subject)
    .map(({ id }) => id);
  const everything = { sizeFromUm: 0, sizeToUm: null, shapes: [], colours: [] };
  return (await look.counts.ofRuns(runs, everything)).some(({ count }) => count !== null);
}
