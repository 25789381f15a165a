import type { Interval } from '../../science/counting/index.ts';
import type { CoverageGap } from './facts.ts';

export const CLAIM_STATES = [
  'cannot-be-judged',
  'not-measured',
  'not-detected',
  'not-distinguishable',
  'detected-not-quantified',
  'quantified',
] as const;
export type ClaimState = (typeof CLAIM_STATES)[number];

export const IDENTIFIED_BY = ['by-eye', 'melts', 'polymer'] as const;
export type IdentifiedBy = (typeof IDENTIFIED_BY)[number];

/** One reason for the claim's state, or one reservation that goes with it. */
export interface Reason {
  readonly why: string;
  readonly message: string;
}

/** One thing to do, and what it would move. */
export interface NextStep {
  readonly why: string;
  /** What to do. */
  readonly message: string;
  /** What would change in the claim by it. */
  readonly moves: string;
}

/** The strongest sentence that the evidence allows, with its number. */
export interface Claim {
  readonly state: ClaimState;
  readonly identifiedBy: IdentifiedBy;
  /** True when the pieces are shown to come from the product and not from the act or the matrix. */
  readonly attributed: boolean;
  readonly netPerGram: Interval | null;
  /** One-sided; null where nothing can be judged. */
  readonly upperLimitPerGram: number | null;
  readonly sentence: string;
  /** Steps that the controls do not repeat, each with what it leaves alive. */
  readonly gaps: readonly CoverageGap[];
  readonly because: readonly Reason[];
  readonly next: readonly NextStep[];
}
