import { type ClaimJson, type ClaimWish, claimFromCounts } from '../api/index.ts';
import { type Outcome, refused } from '../units/index.ts';

/** A claim from counts alone; what is no count is refused, a missing control is a claim that nothing can be judged. */
export function claimDeed(wish: ClaimWish): Outcome<ClaimJson> {
  const portions = wish.portions.map((portion, at) => ({
    name: portion.name ?? `portion ${at + 1}`,
    massG: portion.mass_g,
    count: portion.count,
    passed: portion.passed,
    examined: portion.examined,
    ...(portion.pieces === undefined ? {} : { pieces: portion.pieces }),
  }));
  const controls = wish.blanks.map((blank, at) => ({
    name: blank.name ?? `blank ${at + 1}`,
    kind: 'blank',
    count: blank.count,
    passed: blank.passed,
    examined: blank.examined,
  }));
  const { spikes = [] } = wish;
  if (spikes.length > 0 && wish.recovery !== null) {
    return refused({
      why: 'recovery-not-counts',
      message: 'Recovery was given twice: give either the spiked runs one by one, or their sum.',
    });
  }
  return claimFromCounts({
    portions,
    controls,
    recovery: spikes.length > 0 ? together(spikes) : wish.recovery,
    ...(spikes.length > 0 ? { spikes } : {}),
    drill: wish.drill && {
      truePositive: wish.drill.true_positive,
      falsePositive: wish.drill.false_positive,
    },
    confidence: wish.confidence,
  });
}

const together = (spikes: NonNullable<ClaimWish['spikes']>) => ({
  found: spikes.reduce((sum, s) => sum + s.found, 0),
  added: spikes.reduce((sum, s) => sum + s.added, 0),
});
