const LN_SQRT_2PI = 0.9189385332046727;

/** Terms of the Stirling series B₂ₖ / (2k(2k−1)). Source: Abramowitz & Stegun 1964, 6.1.41. */
const STIRLING = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
  -3617 / 122400,
  43867 / 244188,
];

/** From here the nine-term series is exact to double precision. */
const STIRLING_FROM = 10;

function stirlingTail(x: number): number {
  const step = 1 / (x * x);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * step + STIRLING[k]!;
  return sum / x;
}

/** ln Γ(x) for x > 0, by the Stirling series moved up to x ≥ 10. Source: Abramowitz & Stegun 1964, 6.1.15 and 6.1.41. */
export function lnGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`lnGamma: a number above 0 is needed, given ${x}`);
  let product = 1;
  let up = x;
  while (up < STIRLING_FROM) product *= up++;
  return (up - 0.5) * Math.log(up) - up + LN_SQRT_2PI + stirlingTail(up) - Math.log(product);
}

/** ln B(a, b) = ln Γ(a) + ln Γ(b) − ln Γ(a + b), without cancellation when one argument is large. */
export function lnBeta(a: number, b: number): number {
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  if (large < STIRLING_FROM) return lnGamma(a) + lnGamma(b) - lnGamma(a + b);
  const ratio = small / large;
  const tails = stirlingTail(large) - stirlingTail(small + large);
  const shared = (large - 0.5) * -Math.log1p(ratio) - small * Math.log(large + small) + small + tails;
  return lnGamma(small) + shared;
}

/**
 * Error of Stirling's formula for Γ(x+1): ln Γ(x+1) − (x + ½) ln x + x − ½ ln 2π. Small, and exact where the
 * difference of large logarithms would not be.
 */
export function stirlingError(x: number): number {
  if (x >= STIRLING_FROM) return stirlingTail(x);
  return lnGamma(x + 1) - (x + 0.5) * Math.log(x) + x - LN_SQRT_2PI;
}

/** x·ln(x/m) + m − x, without cancellation near x = m (deviance of a Poisson count). Source: Loader 2000, §3. */
export function halfDeviance(x: number, m: number): number {
  const gap = x - m;
  if (Math.abs(gap) < 0.1 * (x + m)) {
    const v = gap / (x + m);
    let sum = gap * v;
    let term = 2 * x * v;
    const square = v * v;
    for (let j = 1; j < 1000; j++) {
      term *= square;
      const next = sum + term / (2 * j + 1);
      if (next === sum) return next;
      sum = next;
    }
  }
  return x === 0 ? m : x * Math.log(x / m) + m - x;
}

/** ψ(x), the derivative of ln Γ, for x > 0. Source: Abramowitz & Stegun 1964, 6.3.5 and 6.3.18. */
export function digamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`digamma: a number above 0 is needed, given ${x}`);
  let down = 0;
  let up = x;
  while (up < STIRLING_FROM) down += 1 / up++;
  const step = 1 / (up * up);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * step + STIRLING[k]! * (2 * k + 1);
  return Math.log(up) - 0.5 / up - sum * step - down;
}

/** ψ′(x), the second derivative of ln Γ, for x > 0. Source: Abramowitz & Stegun 1964, 6.4.6 and 6.4.12. */
export function trigamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`trigamma: a number above 0 is needed, given ${x}`);
  let down = 0;
  let up = x;
  while (up < STIRLING_FROM) {
    down += 1 / (up * up);
    up++;
  }
  const step = 1 / (up * up);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * step + STIRLING[k]! * (2 * k + 1) * (2 * k + 2);
  return 1 / up + step / 2 + (sum * step) / up + down;
}
