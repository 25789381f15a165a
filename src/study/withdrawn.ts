/** Withdrawn runs in words: they are in no figure, and never left out in silence. */
import { fewOf } from './few-of.ts';
import type { Run } from './records/run.ts';
import type { SpecimenId } from './records/specimen.ts';

export interface WithdrawnRun {
  readonly run: Run;
  /** Of which specimen its portion is; null: it has none. */
  readonly specimen: SpecimenId | null;
  readonly why: string;
  /** It was withdrawn when what it counted could be read: the result may have been picked. */
  readonly countOpen: boolean;
}

const MOST_NAMED = 6;
const were = (runs: readonly unknown[]): string => (runs.length === 1 ? 'was' : 'were');

/** Which runs are withdrawn, why, and whether before or after their counts could be read; null: none is. */
export function withdrawnSentence(runs: readonly WithdrawnRun[]): string | null {
  if (runs.length === 0) return null;
  const each = runs.map(
    ({ run, why, countOpen }) =>
      `${run.name} (“${why}”, ${countOpen ? 'after its count could be read' : 'before anything of it was counted'})`,
  );
  return `Withdrawn, and in no figure here: ${fewOf(each, MOST_NAMED)}.`;
}

/** What to know of those that were withdrawn after their counts could be read; null: none was. */
export function pickedSentence(runs: readonly WithdrawnRun[]): string | null {
  const open = runs.filter(({ countOpen }) => countOpen);
  if (open.length === 0) return null;
  const names = fewOf(
    open.map(({ run }) => run.name),
    MOST_NAMED,
  );
  return `${names} ${were(open)} withdrawn after ${open.length === 1 ? 'its count' : 'their counts'} could be read. Leaving out runs whose counts are known can pick a result: the reason must hold whatever was counted; if it does not, put them back.`;
}
