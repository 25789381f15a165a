/** How far the claim moves when somebody calls one piece otherwise: which pieces a second opinion should see. */
import { type CountingInput, type Judgement, judge } from '../science/counting/index.ts';
import type { Measured, Side } from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';
import { SEED, standingFrom } from './standing.ts';

/** A piece in or out of the counts, on either side; what the claim does when it changes over. */
export type Moves = Readonly<Record<Side, { readonly out: number; readonly in: number }>>;

/**
 * The movement of the product's claim by one piece, judged anew with one piece less and one more on either side: the net in
 * half-widths of its interval, and one more where the decision itself turns. One piece of a side moves it as much as
 * another, since the counts of a side are taken together. Null where nothing is judged.
 */
export function movesOf(counted: CountedStudy): Moves | null {
  const first = standingFrom(counted).specimens[0];
  if (!first?.judged.ok) return null;
  const now = first.judged.value;
  const { input } = first.input;
  const one = (side: Side, by: 1 | -1): number => {
    const changed = withOneMore(input, side, by);
    const then = changed && judge(changed, { seed: SEED });
    return then?.ok ? movement(now, then.value) : 0;
  };
  return {
    specimens: { out: one('specimens', -1), in: one('specimens', 1) },
    controls: { out: one('controls', -1), in: one('controls', 1) },
  };
}

function withOneMore(input: CountingInput, side: Side, by: 1 | -1): CountingInput | null {
  const part = side === 'specimens' ? 'portions' : 'controls';
  const runs = input[part];
  const at = runs.findIndex(({ count }) => count + by >= 0);
  if (at < 0) return null;
  const changed = runs.map((run, i) => {
    if (i !== at) return run;
    const count = run.count + by;
    // a piece that is taken in was a candidate before
    return run.candidates === undefined
      ? { ...run, count }
      : { ...run, count, candidates: Math.max(count, run.candidates) };
  });
  return { ...input, [part]: changed };
}

function movement(now: Judgement, then: Judgement): number {
  const { lower, upper } = now.netPerGram;
  const moved = Math.abs(then.netPerGram.value - now.netPerGram.value) / Math.max(1e-12, (upper - lower) / 2);
  return moved + (then.aboveBackground === now.aboveBackground ? 0 : 1);
}

/**
 * What a second opinion on a piece is expected to move: the movement when it changes over, times the chance that it does,
 * which is how far the finder's certainty speaks against what stands. A piece that nobody decided on counts as found.
 */
export function worthOfAnEye(
  { standing, certainty }: Measured<'standing' | 'certainty'>,
  side: Side,
  moves: Moves,
): number {
  return standing === 'dropped'
    ? certainty.real * moves[side].in
    : (1 - certainty.real) * moves[side].out * (standing === 'unmarked' ? UNDECIDED : 1);
}

/** Nobody has looked at it yet: somebody who does is freer to drop it than to overrule a mark. Project choice. */
const UNDECIDED = 2;
