import type { Completeness } from '../../science/imaging/index.ts';
import type { PersonId } from './laboratory.ts';
import type { PhotoId } from './photo.ts';
import type { Id, Instant } from './rules.ts';
import type { StudyId } from './study.ts';

/** How small a piece this study's own control photographs still show, by known pieces drawn into them. Only added; the newest stands. */
export interface MeasuredCompleteness {
  readonly id: Id<'completeness'>;
  readonly study: StudyId;
  /** The control photographs that were drawn into. */
  readonly photos: readonly PhotoId[];
  readonly result: Completeness;
  readonly by: PersonId;
  readonly at: Instant;
}
