import type { Interval } from '../../science/counting/index.ts';
import type { Micrometres } from '../../units/index.ts';
import type { IdentifiedBy } from './claim.ts';

/** A step of the specimen runs that the controls do not repeat. */
export interface CoverageGap {
  /** The step, as people call it. */
  readonly step: string;
  /** `missing`: no control has the step; `different`: it was done otherwise; `unknown`: not recorded. */
  readonly grade: 'missing' | 'different' | 'unknown';
  /** The explanation that stays alive: what the particles could come from instead. */
  readonly leavesOpen: string;
  /** The control that would close the gap. */
  readonly control: string;
}

export interface Identification {
  readonly by: IdentifiedBy;
  /** For `polymer`: which. */
  readonly polymer: string | null;
  /** Share of the kept pieces that are what is claimed, from a random part of them; null when not estimated. */
  readonly share: Interval | null;
  readonly tested: number;
  readonly passed: number;
  /** True when the tested pieces were drawn at random, within strata where there are any. */
  readonly atRandom: boolean;
}

export interface Attribution {
  /** Colour or polymer agrees with a reference piece of the product. */
  readonly matchesReference: boolean;
  /** Exceeds controls that do the same act without the product. */
  readonly aboveActControls: boolean;
  /** Rises with dose, time or number of pieces; null: not tried. */
  readonly risesWithDose: boolean | null;
}

/** Everything beside the counts that decides how strong a sentence may be. */
export interface ClaimFacts {
  /** Counts typed in, or a study with its records. A study's claim needs the minimum design. */
  readonly basis: 'counts-alone' | 'study';
  readonly gaps: readonly CoverageGap[];
  /** Smallest piece that these optics and this scorer find reliably; null: not determined. */
  readonly sizeFloorUm: Micrometres | null;
  /** Specimen runs that no control matches: recorded and not judged, each with what would close it. */
  readonly leftOut?: readonly { readonly run: string; readonly control: string }[];
  /** Runs whose volumes cannot be, one sentence each: recorded and not judged until they are mended. */
  readonly heldOut?: readonly string[];
  /** The sentence on runs that are withdrawn; null: none is. */
  readonly withdrawn?: string | null;
  /** Sizes that the question asks about. */
  readonly scope: { readonly fromUm: Micrometres; readonly toUm: Micrometres | null } | null;
  /** Least share of the filters that had to be examined, fixed before; null: none fixed. */
  readonly examinedRequired: number | null;
  /** Share of all material of the specimen runs that was seen: passed × examined, of all runs. */
  readonly examined: number | null;
  /** Filters that could not be read, as people call them. */
  readonly unreadable: readonly string[];
  readonly identification: Identification;
  readonly attribution: Attribution;
}

/** What is known when somebody gives counts and nothing else. */
export const COUNTS_ALONE: ClaimFacts = {
  basis: 'counts-alone',
  gaps: [],
  sizeFloorUm: null,
  scope: null,
  examinedRequired: null,
  examined: null,
  unreadable: [],
  identification: { by: 'by-eye', polymer: null, share: null, tested: 0, passed: 0, atRandom: false },
  attribution: { matchesReference: false, aboveActControls: false, risesWithDose: null },
};
