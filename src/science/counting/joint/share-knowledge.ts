import { fromDensity, type Knowledge, known } from './knowledge.ts';

/** k of n trials came out one way. */
export interface Tally {
  readonly k: number;
  readonly n: number;
}

/** What k of n says of a share: tables that err to the low and to the high side. */
export interface ShareKnown {
  readonly low: Knowledge;
  readonly high: Knowledge;
}

const POINTS = 40;
const REACH = 2.6;

/**
 * Knowledge of a share from k of n: beta(k, n − k + 1) on the low side and beta(k + 1, n − k) on the high side, whose
 * quantiles are Clopper and Pearson's exact limits.
 */
export function shareKnowledge({ k, n }: Tally): ShareKnown {
  if (!(Number.isSafeInteger(k) && Number.isSafeInteger(n) && n > 0 && k >= 0 && k <= n)) {
    throw new RangeError(`share: k of n with 0 ≤ k ≤ n and n above 0 is needed, given ${k} of ${n}`);
  }
  return {
    low: k === 0 ? known(0) : betaTable(k, n - k + 1),
    high: k === n ? known(1) : betaTable(k + 1, n - k),
  };
}

/** Beta(a, b), laid out evenly in the stretched logit. */
function betaTable(a: number, b: number): Knowledge {
  const centre = Math.log(a / b);
  const spread = 0.8 * Math.sqrt(1 / a + 1 / b);
  const at = new Float64Array(POINTS + 1);
  const density = new Float64Array(POINTS + 1);
  const lnDensity = (x: number): number => (a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x);
  const top = a > 1 && b > 1 ? lnDensity((a - 1) / (a + b - 2)) : 0;
  for (let i = 0; i <= POINTS; i++) {
    const logit = centre + spread * Math.sinh(-REACH + (2 * REACH * i) / POINTS);
    const x = 1 / (1 + Math.exp(-logit));
    at[i] = x;
    density[i] = Math.exp(lnDensity(x) - top);
  }
  return fromDensity(at, density);
}
