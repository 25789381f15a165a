/**
 * How far apart two steps may be and still be the same. Common practice, no source; a laboratory may set its own.
 * The tolerance of each quantity is declared with the kind of step.
 */
export interface Tolerances {
  /** Minutes uncovered: the same within this share of the longer … */
  readonly uncoveredShare: number;
  /** … or within so many minutes. */
  readonly uncoveredMinutes: number;
  /** A background that grows in proportion may be scaled up to this factor; beyond it the step is different. */
  readonly scaledUpTo: number;
}

export const USUAL_TOLERANCES: Tolerances = { uncoveredShare: 0.2, uncoveredMinutes: 1, scaledUpTo: 2 };
