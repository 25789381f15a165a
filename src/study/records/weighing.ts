import type { Grams } from '../../units/index.ts';
import type { PersonId } from './laboratory.ts';
import { aNote, anId, anInstant, type Id, type Instant, maker, positive, yesOrNo } from './rules.ts';
import type { RunId } from './run.ts';

export type WeighingId = Id<'weighing'>;

/** What was weighed of the product before a run and after it. Each change is a further one; the newest of a run stands. */
export interface Weighing {
  readonly id: WeighingId;
  readonly run: RunId;
  /** False: taken back. */
  readonly stands: boolean;
  readonly beforeG: Grams;
  readonly afterG: Grams;
  /** Standard uncertainty of one weighing. */
  readonly uncertaintyG: Grams;
  readonly note: string;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeWeighing = maker<Weighing>('weighing', {
  id: anId,
  run: anId,
  stands: yesOrNo,
  beforeG: positive,
  afterG: positive,
  uncertaintyG: positive,
  note: aNote,
  by: anId,
  at: anInstant,
});
