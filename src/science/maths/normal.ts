import { betaLower, betaQuantile } from './incomplete-beta.ts';
import { gammaLower, gammaUpper, lnGammaTails } from './incomplete-gamma.ts';

const SQRT_2PI = 2.5066282746310002;

/** Density of the standard normal distribution. */
export const normalDensity = (z: number): number => Math.exp(-0.5 * z * z) / SQRT_2PI;

/** Share of the standard normal distribution up to z, exact far into the lower tail: Φ(z) = ½ Q(½, z²/2) for z < 0. */
export function normalCdf(z: number): number {
  return z < 0 ? 0.5 * gammaUpper(0.5, 0.5 * z * z) : 0.5 + 0.5 * gammaLower(0.5, 0.5 * z * z);
}

/** Share of the standard normal distribution above z, exact far into the upper tail. */
export const normalUpper = (z: number): number => normalCdf(-z);

/** ln Φ(z), finite where Φ itself would vanish. */
export function lnNormalCdf(z: number): number {
  return z < 0 ? lnGammaTails(0.5, 0.5 * z * z).upper - Math.LN2 : Math.log1p(-normalUpper(z));
}

/**
 * z with Φ(z) = p. Start by Hastings' rational approximation, then Halley steps on ln Φ.
 * Source of the start: Abramowitz & Stegun 1964, 26.2.23.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) {
    throw new RangeError(`normal quantile: a probability from 0 to 1 is needed, given ${p}`);
  }
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p === 0.5) return 0;
  if (p > 0.5) return -lowerQuantile(1 - p);
  return lowerQuantile(p);
}

/** z with 1 − Φ(z) = q, exact for tiny q. */
export function normalUpperQuantile(q: number): number {
  return -normalQuantile(q);
}

function lowerQuantile(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  let z =
    (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
  for (let i = 0; i < 4; i++) {
    const lnCdf = lnNormalCdf(z);
    const gap = lnCdf - Math.log(p);
    // d ln Φ = φ/Φ = hazard; its own derivative is −hazard·(z + hazard)
    const hazard = Math.exp(-0.5 * z * z - lnCdf) / SQRT_2PI;
    const step = gap / hazard;
    const next = z - step / (1 + 0.5 * step * (z + hazard));
    if (Math.abs(next - z) <= 1e-16 * Math.abs(z)) return next;
    z = next;
  }
  return z;
}

/** Share of Student's t distribution with df degrees of freedom above t. */
export function studentUpper(t: number, df: number): number {
  const tail = 0.5 * betaLower(df / 2, 0.5, df / (df + t * t));
  return t >= 0 ? tail : 1 - tail;
}

/** t with a share q of Student's distribution above it. */
export function studentUpperQuantile(q: number, df: number): number {
  if (!(q > 0 && q < 1))
    throw new RangeError(`t quantile: a probability between 0 and 1 is needed, given ${q}`);
  if (q > 0.5) return -studentUpperQuantile(1 - q, df);
  const x = betaQuantile(df / 2, 0.5, 2 * q);
  return Math.sqrt((df * (1 - x)) / x);
}
