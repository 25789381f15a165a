import { lnBinomial } from '../maths/index.ts';
import type { Tally } from './chance-of-plastic.ts';

export interface WorthTesting {
  /** Half the width of a two-standard-deviation band of the share, now and on average afterwards. */
  readonly now: number;
  readonly after: number;
}

const GRID = 80;

/** A rate by the middle and two quantile-like points of its beta: enough to carry its uncertainty. */
function points({ k, n }: Tally): readonly { at: number; weight: number }[] {
  const mean = (k + 1) / (n + 2);
  const sd = Math.sqrt((mean * (1 - mean)) / (n + 3));
  const held = (x: number): number => Math.min(0.999, Math.max(0.001, x));
  // three-point rule that keeps mean and variance: ± √3 sd with weight 1/6
  return [
    { at: held(mean - Math.sqrt(3) * sd), weight: 1 / 6 },
    { at: mean, weight: 2 / 3 },
    { at: held(mean + Math.sqrt(3) * sd), weight: 1 / 6 },
  ];
}

/**
 * What a test on m more pieces would tell of the share of plastic in a group, before it is done: the expected spread of the
 * share afterwards, over all outcomes that m pieces can give, weighed by what is known now.
 * Source: preposterior analysis (Raiffa & Schlaifer 1961, Applied Statistical Decision Theory, ch. 5), on a grid.
 * Holds for: pieces drawn at random from the group. Deceives when: the test's rates come from pieces unlike these.
 */
export function worthTesting(
  known: { readonly a: number; readonly b: number },
  test: { readonly plastic: Tally; readonly others: Tally },
  more: number,
): WorthTesting {
  if (!(known.a > 0 && known.b > 0))
    throw new RangeError(`known share: a and b above 0, given ${known.a}, ${known.b}`);
  const share = Array.from({ length: GRID }, (_, g) => (g + 0.5) / GRID);
  const ln = share.map((x) => (known.a - 1) * Math.log(x) + (known.b - 1) * Math.log1p(-x));
  const top = Math.max(...ln);
  const prior = ln.map((x) => Math.exp(x - top));
  const sum = prior.reduce((a, b) => a + b, 0);
  const weight = prior.map((x) => x / sum);
  const spread = (w: readonly number[]): number => {
    const total = w.reduce((a, b) => a + b, 0);
    if (!(total > 0)) return 0;
    let mean = 0;
    for (let g = 0; g < GRID; g++) mean += (w[g]! / total) * share[g]!;
    let variance = 0;
    for (let g = 0; g < GRID; g++) variance += (w[g]! / total) * (share[g]! - mean) ** 2;
    return variance;
  };
  const plastic = points(test.plastic);
  const others = points(test.others);
  let after = 0;
  for (let k = 0; k <= more; k++) {
    const joint = share.map((x, g) => {
      let likelihood = 0;
      for (const s of plastic) {
        for (const f of others)
          likelihood += s.weight * f.weight * Math.exp(lnBinomial(k, more, x * s.at + (1 - x) * f.at));
      }
      return weight[g]! * likelihood;
    });
    after += joint.reduce((a, b) => a + b, 0) * spread(joint);
  }
  return { now: 2 * Math.sqrt(spread(weight)), after: 2 * Math.sqrt(after) };
}
