/**
 * The user's one setting, false finds per blank photograph, turned into thresholds in units of the local noise.
 */
import { LEVELS } from './survey.ts';

/** Thresholds in units of the local noise. */
export interface Thresholds {
  /** A pixel at or above this (per level) makes a candidate. */
  readonly seed: readonly number[];
  /** Pixels at or above this and connected to a seed belong to the candidate. */
  readonly grow: number;
  /** A whole piece must be real with at least this chance. */
  readonly piece: number;
  readonly ridgeSeed: number;
  readonly ridgeGrow: number;
}

/** z with upper tail p of the normal distribution. Source: Abramowitz & Stegun 26.2.23 (error below 4.5e-4). */
export function upperTail(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`tail: a probability between 0 and 1 is needed, given ${p}`);
  if (p > 0.5) return -upperTail(1 - p);
  const t = Math.sqrt(-2 * Math.log(p));
  return (
    t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
  );
}

/**
 * Independent looks at level k: one per window of about (2·2^k)² px. The allowed false finds are shared out evenly among
 * levels, and doubled tails (dark, bright). Grain has heavier tails than the normal law: `TAIL` stretches for that.
 */
const TAIL = 1.12;

/**
 * Chance of being real that a whole piece must reach where half a false find on an empty photograph is accepted: there a
 * piece kept too many and a piece lost weigh about the same (drawn sets, tuned seeds). Asking for fewer or allowing more
 * moves the odds by this power of the ratio.
 */
const EVEN = 0.42;
const ODDS_POWER = 0.7;

const leastChance = (falseFinds: number): number => {
  const odds = (EVEN / (1 - EVEN)) * (0.5 / falseFinds) ** ODDS_POWER;
  return odds / (1 + odds);
};

export function thresholdsFor(falseFinds: number, pixels: number, floorPx: number): Thresholds {
  if (!(falseFinds > 0))
    throw new RangeError(`false finds per blank: a number above 0 is needed, given ${falseFinds}`);
  const seed = Array.from({ length: LEVELS }, (_, k) => {
    const looks = Math.max(16, pixels / (4 * 4 ** k));
    const p = Math.min(0.01, falseFinds / (LEVELS + 2) / looks / 2);
    // Blocks far smaller than the smallest piece looked for need not decide alone.
    const needless = floorPx > 6 * 2 ** k ? 1.1 : 1;
    return TAIL * needless * upperTail(p);
  });
  return {
    seed,
    grow: 3.2,
    piece: leastChance(falseFinds),
    ridgeSeed: seed[1]! * 1.05,
    ridgeGrow: 0.55 * seed[1]!,
  };
}
