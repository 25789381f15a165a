/** A claim from counts alone, as it travels: both doors make it here. */
import {
  type ChanceOfFinding,
  type CountingInput,
  type CountingRefusal,
  categoryDesign,
  judge,
  netBySize,
  robustness,
  SIZE_BANDS,
  type SizedSides,
} from '../science/counting/index.ts';
import { COUNTS_ALONE, claimFrom } from '../study/index.ts';
import { done, type Micrometres, type Outcome } from '../units/index.ts';
import type { ClaimJson } from './claim.ts';
import { claimJson } from './claim-json.ts';
import { sizesJson } from './sizes-json.ts';

/** Relabellings are drawn alike for the same counts, so that the same question gives the same answer. */
const SEED = 20_260_101;

/**
 * Refused where the counts are no counts; every claim state is an answer, also that nothing can be judged for want of a
 * control. With sizes of the particles, the bands of both schemes go with it.
 */
export function claimFromCounts(
  input: CountingInput,
  sizes: SizedSides | null = null,
  sizeFloorUm: Micrometres | null = null,
  chanceOfFinding?: ChanceOfFinding,
): Outcome<ClaimJson, CountingRefusal> {
  const judged = judge(input, { seed: SEED });
  if (!judged.ok) {
    return judged.refusal.why === 'no-controls' ? done(claimJson(claimFrom(judged), null)) : judged;
  }
  const bands =
    sizes &&
    SIZE_BANDS.map((scheme) => netBySize(sizes, scheme, categoryDesign(input), sizeFloorUm, chanceOfFinding));
  const facts = { ...COUNTS_ALONE, sizeFloorUm };
  return done(
    claimJson(claimFrom(judged, facts), judged.value, {
      robustness: robustness(input, [], { seed: SEED }),
      ...(bands ? { sizes: sizesJson(bands) } : {}),
    }),
  );
}
