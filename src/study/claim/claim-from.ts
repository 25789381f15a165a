import type { CountingRefusal, Judgement } from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { Claim } from './claim.ts';
import { type ClaimFacts, COUNTS_ALONE } from './facts.ts';
import { nextStepsFor } from './next-steps.ts';
import { reasonsFor } from './reasons.ts';
import { sentenceOf } from './sentence.ts';
import { isAttributed, stateOf } from './state.ts';

/**
 * The strongest sentence that counts and facts allow, why it is no stronger, and what would move it. A judgement that
 * was refused gives a claim too: one that says what cannot be judged or was not measured.
 */
export function claimFrom(
  judged: Outcome<Judgement, CountingRefusal>,
  facts: ClaimFacts = COUNTS_ALONE,
): Claim {
  const state = stateOf(judged, facts);
  const attributed = isAttributed(state, facts);
  const stands = judged.ok && state !== 'cannot-be-judged' && state !== 'not-measured';
  return {
    state,
    identifiedBy: facts.identification.by,
    attributed,
    netPerGram: stands ? judged.value.netPerGram : null,
    upperLimitPerGram: stands ? judged.value.upperLimitPerGram : null,
    gaps: facts.gaps,
    sentence: sentenceOf(state, judged, facts, attributed),
    because: reasonsFor(state, judged, facts),
    next: nextStepsFor(state, judged, facts),
  };
}
