import type { FalseFindRate } from '../../science/counting/index.ts';
import type { DroppedAre } from '../blank-finds.ts';
import type { PersonId } from './laboratory.ts';
import type { PhotoId } from './photo.ts';
import type { Id, Instant } from './rules.ts';
import type { SearchSettings } from './search-settings.ts';
import type { StudyId } from './study.ts';

/** False finds on a study's own control photographs, by the setting asked for. Only added; the newest stands. */
export interface MeasuredFalseFinds {
  readonly id: Id<'false-finds'>;
  readonly study: StudyId;
  /** The control photographs that were searched. */
  readonly photos: readonly PhotoId[];
  readonly result: {
    readonly method: string;
    readonly version: string;
    /** False finds a blank photograph that were acceptable. */
    readonly wanted: number;
    readonly smallestUm: SearchSettings['smallestUm'];
    readonly droppedAre: DroppedAre;
    readonly confidence: number;
    readonly rates: readonly FalseFindRate[];
  };
  readonly by: PersonId;
  readonly at: Instant;
}

/** How photographs are searched now. */
export interface SearchedBy extends Pick<SearchSettings, 'falseFindsPerBlank' | 'smallestUm'> {
  readonly method: string;
  readonly version: string;
}

/** Why a measurement says nothing of how photographs are searched now; null: it does. */
export function outdated(
  { result }: Pick<MeasuredFalseFinds, 'result'>,
  now: Omit<SearchedBy, 'falseFindsPerBlank'>,
): string | null {
  if (result.method !== now.method || result.version !== now.version) {
    return `It was measured with ${result.method} ${result.version}, and photographs are searched by ${now.method} ${now.version} now: measure again.`;
  }
  return result.smallestUm === now.smallestUm
    ? null
    : 'It was measured for another smallest size than is looked for now: measure again.';
}

/** What was measured on own controls at the setting in force; null where that was not measured, or by another finder or size. */
export function ownFalseFinds(
  measured: Pick<MeasuredFalseFinds, 'result'> | null,
  now: SearchedBy,
): OwnFalseFinds | null {
  if (measured === null || outdated(measured, now) !== null) return null;
  const rate = measured.result.rates.find(({ asked }) => asked === now.falseFindsPerBlank);
  if (!rate) return null;
  const { photographs, least, most } = rate;
  const { confidence } = measured.result;
  return {
    photographs,
    least: least.value,
    most: most.value,
    lower: least.lower,
    upper: most.upper,
    confidence,
  };
}

/** False finds a photograph on own controls; least and most differ by the finds that nobody decided on. */
export interface OwnFalseFinds {
  readonly photographs: number;
  readonly least: number;
  readonly most: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
}

/** How many false finds photographs of a study were searched to accept, and what that gave on its own controls. */
export interface FalseFindsAsked {
  readonly asked: number;
  /** Photographs searched so. */
  readonly photos: number;
  /** Null: not measured for this way of searching. */
  readonly own: OwnFalseFinds | null;
}
