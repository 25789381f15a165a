import type { CountingRefusal, Judgement } from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { ClaimState } from './claim.ts';
import type { ClaimFacts } from './facts.ts';

/** An amount is stated when both ends of its interval lie within this factor of it. Project choice. */
export const KNOWN_WITHIN = 2;
/** Below this recovery the correction rests on too little: the amount is not stated. Project choice (some forbid it below 60 %). */
export const LEAST_RECOVERY = 0.6;

/** Refusals that mean nothing was looked at, as against a comparison that is missing. */
const NOTHING_LOOKED_AT: readonly CountingRefusal['why'][] = ['no-portions', 'fraction-zero'];

/** The sizes asked for that lie under what could have been seen. */
export function outOfSight(facts: ClaimFacts): 'all' | 'part' | 'none' {
  const { scope, sizeFloorUm } = facts;
  if (scope === null || sizeFloorUm === null || sizeFloorUm <= scope.fromUm) return 'none';
  return scope.toUm !== null && sizeFloorUm >= scope.toUm ? 'all' : 'part';
}

export const examinedTooLittle = (facts: ClaimFacts): boolean =>
  facts.examinedRequired !== null && facts.examined !== null && facts.examined < facts.examinedRequired;

/** Whether both ends of the interval lie within the factor of the value. */
const knownWell = ({ netPerGram: { value, lower, upper } }: Judgement): boolean =>
  value > 0 && lower >= value / KNOWN_WITHIN && upper <= value * KNOWN_WITHIN;

export type NotQuantified =
  | 'recovery-not-measured'
  | 'recovery-too-low'
  | 'too-few-runs'
  | 'natural-pieces-kept'
  | 'too-wide';

/** What forbids an amount although an excess is there. */
export function notQuantifiedFor(judgement: Judgement): NotQuantified | null {
  if (judgement.recovery === null) return 'recovery-not-measured';
  if (judgement.recovery.value < LEAST_RECOVERY) return 'recovery-too-low';
  if (!judgement.meetsMinimum) return 'too-few-runs';
  const { naturalKept, netCount } = judgement;
  if (naturalKept && naturalKept.upper > netCount / KNOWN_WITHIN) return 'natural-pieces-kept';
  if (!knownWell(judgement)) return 'too-wide';
  return null;
}

/**
 * The state of a claim. In order: nothing looked at, or out of sight → not measured; a comparison that is missing or
 * does not match → cannot be judged; no excess → not detected; an excess within the background's reach → not
 * distinguishable; an excess beyond it → detected, and quantified when the amount is known well enough.
 */
export function stateOf(judged: Outcome<Judgement, CountingRefusal>, facts: ClaimFacts): ClaimState {
  if (!judged.ok && NOTHING_LOOKED_AT.includes(judged.refusal.why)) return 'not-measured';
  if (outOfSight(facts) === 'all' || examinedTooLittle(facts)) return 'not-measured';
  if (!judged.ok) return 'cannot-be-judged';
  if (facts.gaps.some((gap) => gap.grade !== 'unknown')) return 'cannot-be-judged';
  const judgement = judged.value;
  if (facts.basis === 'study' && !judgement.meetsMinimum) return 'cannot-be-judged';
  if (judgement.aboveBackground) {
    return notQuantifiedFor(judgement) === null ? 'quantified' : 'detected-not-quantified';
  }
  return judgement.netCount <= 0 ? 'not-detected' : 'not-distinguishable';
}

/** Attributed: agrees with the product, exceeds the act without it, rises with dose; and there is an excess at all. */
export function isAttributed(state: ClaimState, facts: ClaimFacts): boolean {
  const { matchesReference, aboveActControls, risesWithDose } = facts.attribution;
  const excess = state === 'quantified' || state === 'detected-not-quantified';
  return excess && matchesReference && aboveActControls && risesWithDose === true;
}
