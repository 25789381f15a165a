import { halfDeviance, lnGamma, stirlingError } from './gamma.ts';
import { solveTail } from './tail-quantile.ts';

const LN_SQRT_2PI = 0.9189385332046727;
const EPSILON = 1e-16;

/** Natural logarithms of both tails of a distribution: ln P(≤) and ln P(>). */
export interface LnTails {
  readonly lower: number;
  readonly upper: number;
}

/** ln [x^a e^{−x} / Γ(a+1)], exact for large a. */
function lnFront(a: number, x: number): number {
  if (a < 1) return a * Math.log(x) - x - lnGamma(a + 1);
  return -halfDeviance(a, x) - stirlingError(a) - LN_SQRT_2PI - 0.5 * Math.log(a);
}

const lnOther = (lnP: number): number =>
  lnP > -Math.LN2 ? Math.log(-Math.expm1(lnP)) : Math.log1p(-Math.exp(lnP));

/**
 * ln P(a,x) and ln Q(a,x), the regularised incomplete gamma functions, each accurate in its own tail.
 * Series below x = a + 1, continued fraction above. Source: Abramowitz & Stegun 1964, 6.5.29 and 6.5.31.
 */
export function lnGammaTails(a: number, x: number): LnTails {
  if (!(a > 0)) throw new RangeError(`incomplete gamma: a shape above 0 is needed, given ${a}`);
  if (!(x >= 0)) throw new RangeError(`incomplete gamma: a number from 0 is needed, given ${x}`);
  if (x === 0) return { lower: -Infinity, upper: 0 };
  if (x === Infinity) return { lower: 0, upper: -Infinity };
  if (x < a + 1) {
    let sum = 1;
    let term = 1;
    for (let n = a + 1; term > sum * EPSILON; n++) {
      term *= x / n;
      sum += term;
    }
    const lower = Math.min(0, lnFront(a, x) + Math.log(sum));
    return { lower, upper: lnOther(lower) };
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let i = 1; i < 1_000_000; i++) {
    const an = -i * (i - a);
    b += 2;
    d = 1 / (an * d + b || 1e-300);
    c = b + an / c || 1e-300;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) <= 4 * EPSILON) break;
  }
  const upper = Math.min(0, lnFront(a, x) + Math.log(a) + Math.log(h));
  return { lower: lnOther(upper), upper };
}

/** P(a,x): share of a gamma distribution of this shape (scale 1) up to x. */
export const gammaLower = (a: number, x: number): number => Math.exp(lnGammaTails(a, x).lower);
/** Q(a,x) = 1 − P(a,x), exact in its own tail. */
export const gammaUpper = (a: number, x: number): number => Math.exp(lnGammaTails(a, x).upper);

/** ln of the gamma density of this shape (scale 1) at x > 0. */
export const lnGammaDensity = (a: number, x: number): number => lnFront(a, x) + Math.log(a) - Math.log(x);

/** First guess: Wilson & Hilferty 1931 (Proc. Natl Acad. Sci. 17:684), or the leading term of the series near 0. */
function guess(a: number, lnP: number, lnQ: number): number {
  const near0 = (lnP + lnGamma(a + 1)) / a;
  if (near0 < Math.log(0.2 * (a + 1))) return near0;
  const tail = Math.min(lnP, lnQ);
  const t = Math.sqrt(-2 * tail);
  const z =
    (lnP < lnQ ? -1 : 1) * Math.max(0, t - (2.30753 + 0.27061 * t) / (1 + t * (0.99229 + t * 0.04481)));
  const root = 1 - 1 / (9 * a) + z / (3 * Math.sqrt(a));
  return root > 0.05 ? Math.log(a) + 3 * Math.log(root) : near0;
}

function quantileOf(a: number, lnP: number, lnQ: number): number {
  if (!(a > 0)) throw new RangeError(`gamma quantile: a shape above 0 is needed, given ${a}`);
  if (lnP === -Infinity) return 0;
  if (lnQ === -Infinity) return Infinity;
  const t = solveTail(
    lnP,
    lnQ,
    guess(a, lnP, lnQ),
    (s) => lnGammaTails(a, Math.exp(s)),
    (s) => lnFront(a, Math.exp(s)) + Math.log(a),
  );
  return Math.exp(t);
}

function share(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile: a probability from 0 to 1 is needed, given ${p}`);
  return p;
}

/** x with P(a,x) = p. */
export const gammaQuantile = (a: number, p: number): number =>
  quantileOf(a, Math.log(share(p)), Math.log1p(-p));
/** x with Q(a,x) = q: the quantile given by its upper tail, exact for tiny q. */
export const gammaUpperQuantile = (a: number, q: number): number =>
  quantileOf(a, Math.log1p(-share(q)), Math.log(q));

/** Chi-square with df degrees of freedom: share above x. */
export const chiSquareUpper = (x: number, df: number): number => gammaUpper(df / 2, x / 2);
/** Chi-square with df degrees of freedom: share up to x. */
export const chiSquareLower = (x: number, df: number): number => gammaLower(df / 2, x / 2);
/** Chi-square quantile of the lower share p. */
export const chiSquareQuantile = (p: number, df: number): number => 2 * gammaQuantile(df / 2, p);
/** Chi-square quantile of the upper share q. */
export const chiSquareUpperQuantile = (q: number, df: number): number => 2 * gammaUpperQuantile(df / 2, q);
