import type { Micrometres } from '../../units/index.ts';
import type { PersonId } from './laboratory.ts';
import { anId, anInstant, type Id, type Instant, maker, number, orNull } from './rules.ts';
import type { StudyId } from './study.ts';

/** How a study's photographs are searched from now on. Only added; the newest stands. */
export interface SearchSettings {
  readonly id: Id<'search-settings'>;
  readonly study: StudyId;
  /** False finds on a photograph of an empty filter that are acceptable, on average. */
  readonly falseFindsPerBlank: number;
  /** Smallest maximum Feret diameter to report; null: what the optics allow. */
  readonly smallestUm: Micrometres | null;
  readonly by: PersonId;
  readonly at: Instant;
}

/** Where nobody has said otherwise. */
export const USUAL_SEARCH = { falseFindsPerBlank: 0.5, smallestUm: null } as const;

export const makeSearchSettings = maker<SearchSettings>('search', {
  id: anId,
  study: anId,
  falseFindsPerBlank: number({ from: 0.01, to: 50 }),
  smallestUm: orNull(number({ from: 1, to: 5000 })),
  by: anId,
  at: anInstant,
});
