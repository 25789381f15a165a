import { type ClaimJson, type ClaimWish, claimJson } from '../api/index.ts';
import { judge } from '../science/counting/index.ts';
import { claimFrom } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';

const SEED = 20_260_101;

/** A claim from counts alone; what is no count is refused, a missing control is a claim that nothing can be judged. */
export function claimDeed(wish: ClaimWish): Outcome<ClaimJson> {
  const judged = judge(
    {
      portions: wish.portions.map((portion, at) => ({
        name: portion.name ?? `portion ${at + 1}`,
        massG: portion.mass_g,
        count: portion.count,
        passed: portion.passed,
        examined: portion.examined,
      })),
      controls: wish.blanks.map((blank, at) => ({
        name: blank.name ?? `blank ${at + 1}`,
        kind: 'blank',
        count: blank.count,
        passed: blank.passed,
        examined: blank.examined,
      })),
      recovery: wish.recovery,
      drill: wish.drill && {
        truePositive: wish.drill.true_positive,
        falsePositive: wish.drill.false_positive,
      },
      confidence: wish.confidence,
    },
    { seed: SEED },
  );
  if (!judged.ok && judged.refusal.why !== 'no-controls') return judged;
  return done(claimJson(claimFrom(judged), judged.ok ? judged.value : null));
}
