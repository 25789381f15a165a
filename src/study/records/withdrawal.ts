/** Runs, portions and procedures that are withdrawn, and put back: each is somebody's word, and the latest stands. */
import type { PersonId } from './laboratory.ts';
import { anId, anInstant, type Id, type Instant, maker, oneOf, text, yesOrNo } from './rules.ts';
import type { StudyId } from './study.ts';

/** What can be put back after it was withdrawn. */
export const RETURNING = ['run', 'portion', 'procedure'] as const;
export type Returning = (typeof RETURNING)[number];

/** A run left out in silence would be a picked result: why is always said. */
export interface WithdrawalWord {
  readonly id: Id<'withdrawal-word'>;
  readonly study: StudyId;
  readonly what: Returning;
  readonly subject: string;
  /** False: put back. */
  readonly withdrawn: boolean;
  readonly why: string;
  /** What the run, or a run of the portion, counted could be read when this was said. */
  readonly countOpen: boolean;
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeWithdrawalWord = maker<WithdrawalWord>('withdrawal', {
  id: anId,
  study: anId,
  what: oneOf(RETURNING),
  subject: anId,
  withdrawn: yesOrNo,
  why: text(1, 400),
  countOpen: yesOrNo,
  at: anInstant,
  by: anId,
});

/** The words that stand: of each subject the latest, where that withdraws it. In the order in which they were said. */
export function withdrawnNow(words: readonly WithdrawalWord[]): readonly WithdrawalWord[] {
  const latest = new Map(words.map((word) => [word.subject, word]));
  return words.filter((word) => word.withdrawn && latest.get(word.subject) === word);
}
