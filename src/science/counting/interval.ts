/** A number with the range that it may lie in. `confidence` is two-sided. */
export interface Interval {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
}
