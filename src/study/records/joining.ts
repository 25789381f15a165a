import type { FieldLink } from '../../science/imaging/index.ts';
import type { Fraction } from '../../units/index.ts';
import type { FilterId } from './filter.ts';
import type { FindingId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import type { Id, Instant } from './rules.ts';

export type JoiningId = Id<'joining'>;

/**
 * How the photographs of one filter lie towards each other, so that a particle on two of them counts once. Only added;
 * the newest of a filter stands. Made by the program when a photograph was searched, or by somebody who wants each
 * photograph counted for itself, or no longer.
 */
export interface Joining {
  readonly id: JoiningId;
  readonly filter: FilterId;
  /** Each photograph counts for itself, whatever it shares with others. */
  readonly apart: boolean;
  /** The findings that were laid together; a link names two of them by index. */
  readonly findings: readonly FindingId[];
  readonly links: readonly FieldLink[];
  /** Those that share something with another. */
  readonly placed: readonly FindingId[];
  /** Area in view of those with a place, what overlaps taken once, divided by the sum of their areas. */
  readonly once: Fraction;
  /** Who said so; null where the program did. */
  readonly by: PersonId | null;
  readonly at: Instant;
}
