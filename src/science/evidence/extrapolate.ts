import { chanceFrom, drawBeta, drawBinomial } from '../maths/index.ts';
import type { Tally } from './chance-of-plastic.ts';

export interface TestedStratum {
  readonly name: string;
  readonly pieces: number;
  readonly tested: number;
  readonly passed: number;
}

export interface Extrapolated {
  /** True pieces among all of all strata. */
  readonly total: { readonly value: number; readonly lower: number; readonly upper: number };
  readonly share: { readonly value: number; readonly lower: number; readonly upper: number };
  readonly strata: readonly {
    readonly name: string;
    readonly pieces: number;
    readonly tested: number;
    readonly passed: number;
    /** Null where nothing of the stratum was tested: not known, which is neither none nor all. */
    readonly share: { readonly value: number; readonly lower: number; readonly upper: number } | null;
  }[];
}

const DRAWS = 2500;
const GRID = 64;

/** Logarithms of passing and failing, for shares on the grid, when passes have rates s and f. */
function gridOf(s: number, f: number, pass: Float64Array, fail: Float64Array): void {
  for (let g = 0; g < GRID; g++) {
    const p = Math.min(1 - 1e-9, Math.max(1e-9, ((g + 0.5) / GRID) * (s - f) + f));
    pass[g] = Math.log(p);
    fail[g] = Math.log1p(-p);
  }
}

/** Draws a share by what k of n says of it, on the grid, even prior. */
function drawShare(k: number, n: number, pass: Float64Array, fail: Float64Array, u: number): number {
  let top = Number.NEGATIVE_INFINITY;
  for (let g = 0; g < GRID; g++) top = Math.max(top, k * pass[g]! + (n - k) * fail[g]!);
  const weight = new Float64Array(GRID);
  let sum = 0;
  for (let g = 0; g < GRID; g++) {
    weight[g] = Math.exp(k * pass[g]! + (n - k) * fail[g]! - top);
    sum += weight[g]!;
  }
  let rest = u * sum;
  for (let g = 0; g < GRID; g++) {
    if (rest <= weight[g]!) return (g + rest / weight[g]!) / GRID;
    rest -= weight[g]!;
  }
  return 1;
}

const at = (sorted: Float64Array, share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(share * (sorted.length - 1))))]!;

/**
 * True pieces among all, from tested pieces drawn at random within strata: share by share, untested pieces follow the share
 * of their own stratum, tested ones what the test's errors say of them. Errors (a drill, or null for a test taken as free
 * of error) are common to all strata and carry their own uncertainty. Seeded draws, even priors, equal tails.
 * Source: Cochran 1977, Sampling Techniques, §5 (stratified estimate), with Bayes' rule for few pieces; finite populations by
 * drawing only the untested. Holds for: pieces drawn at random within each stratum.
 * Deceives when: a stratum without tested pieces is large: its share is then taken as anything from none to all.
 */
export function extrapolate(
  strata: readonly TestedStratum[],
  errors: { readonly plastic: Tally; readonly others: Tally } | null,
  confidence: number,
  seed = 1,
): Extrapolated {
  for (const { name, pieces, tested, passed } of strata) {
    if (!(passed >= 0 && passed <= tested && tested <= pieces))
      throw new RangeError(
        `stratum ${name}: passed ≤ tested ≤ pieces is needed, given ${passed}, ${tested}, ${pieces}`,
      );
  }
  const chance = chanceFrom(seed);
  const all = strata.reduce((sum, one) => sum + one.pieces, 0);
  const pass = new Float64Array(GRID);
  const fail = new Float64Array(GRID);
  const totals = new Float64Array(DRAWS);
  const shares = strata.map(() => new Float64Array(DRAWS));
  for (let i = 0; i < DRAWS; i++) {
    let s = 1;
    let f = 0;
    if (errors) {
      // A rate pair that tells nothing says nothing of the share; the drill as a whole was checked before.
      s = drawBeta(chance, errors.plastic.k + 1, errors.plastic.n - errors.plastic.k + 1);
      f = Math.min(s, drawBeta(chance, errors.others.k + 1, errors.others.n - errors.others.k + 1));
    }
    if (i === 0 || errors) gridOf(s, f, pass, fail);
    let sum = 0;
    for (const [h, { pieces, tested, passed }] of strata.entries()) {
      const share = tested === 0 ? chance.uniform() : drawShare(passed, tested, pass, fail, chance.uniform());
      const ofPassed = share * s + (1 - share) * f;
      const ifPassed = ofPassed > 0 ? (share * s) / ofPassed : 0;
      const ofFailed = share * (1 - s) + (1 - share) * (1 - f);
      const ifFailed = ofFailed > 0 ? (share * (1 - s)) / ofFailed : 0;
      const truly =
        drawBinomial(chance, passed, ifPassed) +
        drawBinomial(chance, tested - passed, ifFailed) +
        drawBinomial(chance, pieces - tested, share);
      shares[h]![i] = pieces === 0 ? 0 : truly / pieces;
      sum += truly;
    }
    totals[i] = sum;
  }
  const tail = (1 - confidence) / 2;
  const spanOf = (draws: Float64Array) => {
    const sorted = draws.slice().sort();
    return { value: at(sorted, 0.5), lower: at(sorted, tail), upper: at(sorted, 1 - tail) };
  };
  const total = spanOf(totals);
  const part = (n: number): number => (all === 0 ? 0 : n / all);
  return {
    total,
    share: { value: part(total.value), lower: part(total.lower), upper: part(total.upper) },
    strata: strata.map((one, h) => ({ ...one, share: one.tested === 0 ? null : spanOf(shares[h]!) })),
  };
}
