import { halfDeviance, lnBeta, stirlingError } from './gamma.ts';
import type { LnTails } from './incomplete-gamma.ts';
import { solveTail } from './tail-quantile.ts';

const LN_2PI = 1.8378770664093453;

const lnOther = (lnP: number): number =>
  lnP > -Math.LN2 ? Math.log(-Math.expm1(lnP)) : Math.log1p(-Math.exp(lnP));

/** ln [x^a (1−x)^b / B(a,b)] with y = 1 − x given apart; the saddle-point form keeps large a, b exact (Loader 2000). */
function lnFront(a: number, b: number, x: number, y: number): number {
  if (a < 10 || b < 10) return a * Math.log(x) + b * Math.log(y) - lnBeta(a, b);
  const n = a + b;
  const errors = stirlingError(n) - stirlingError(a) - stirlingError(b);
  return (
    errors -
    halfDeviance(a, n * x) -
    halfDeviance(b, n * y) +
    0.5 * (Math.log(a) + Math.log(b) - Math.log(n) - LN_2PI)
  );
}

/** Continued fraction of I_x(a,b) by the modified Lentz method. Source: Abramowitz & Stegun 1964, 26.5.8. */
function fraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let h = d;
  for (let m = 1; m < 1_000_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || tiny);
    c = 1 + even / c || tiny;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || tiny);
    c = 1 + odd / c || tiny;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) <= 4e-16) break;
  }
  return h;
}

function tailsAt(a: number, b: number, x: number, y: number): LnTails {
  if (x === 0) return { lower: -Infinity, upper: 0 };
  if (y === 0) return { lower: 0, upper: -Infinity };
  const front = lnFront(a, b, x, y);
  if (x < (a + 1) / (a + b + 2)) {
    const lower = Math.min(0, front - Math.log(a) + Math.log(fraction(a, b, x)));
    return { lower, upper: lnOther(lower) };
  }
  const upper = Math.min(0, front - Math.log(b) + Math.log(fraction(b, a, y)));
  return { lower: lnOther(upper), upper };
}

function checked(a: number, b: number): void {
  if (!(a > 0 && b > 0)) throw new RangeError(`beta: two shapes above 0 are needed, given ${a} and ${b}`);
}

/** ln I_x(a,b) and ln(1 − I_x(a,b)), the regularised incomplete beta function, each accurate in its own tail. */
export function lnBetaTails(a: number, b: number, x: number): LnTails {
  checked(a, b);
  if (!(x >= 0 && x <= 1)) throw new RangeError(`beta: a number from 0 to 1 is needed, given ${x}`);
  return tailsAt(a, b, x, 1 - x);
}

/** I_x(a,b): share of a beta distribution up to x. */
export const betaLower = (a: number, b: number, x: number): number => Math.exp(lnBetaTails(a, b, x).lower);
/** 1 − I_x(a,b), exact in its own tail. */
export const betaUpper = (a: number, b: number, x: number): number => Math.exp(lnBetaTails(a, b, x).upper);

/** ln of the beta density at 0 < x < 1. */
export const lnBetaDensity = (a: number, b: number, x: number): number =>
  lnFront(a, b, x, 1 - x) - Math.log(x) - Math.log1p(-x);

function quantileOf(a: number, b: number, lnP: number, lnQ: number): number {
  checked(a, b);
  if (lnP === -Infinity) return 0;
  if (lnQ === -Infinity) return 1;
  const x = (s: number): number => 1 / (1 + Math.exp(-s));
  const s = solveTail(
    lnP,
    lnQ,
    Math.log(a) - Math.log(b),
    (t) => tailsAt(a, b, x(t), x(-t)),
    (t) => lnFront(a, b, x(t), x(-t)),
  );
  return x(s);
}

function share(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile: a probability from 0 to 1 is needed, given ${p}`);
  return p;
}

/** x with I_x(a,b) = p. */
export const betaQuantile = (a: number, b: number, p: number): number =>
  quantileOf(a, b, Math.log(share(p)), Math.log1p(-p));
/** x with 1 − I_x(a,b) = q: the quantile given by its upper tail. */
export const betaUpperQuantile = (a: number, b: number, q: number): number =>
  quantileOf(a, b, Math.log1p(-share(q)), Math.log(q));
