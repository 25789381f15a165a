import { halfDeviance, lnBeta, lnGamma, stirlingError } from './gamma.ts';
import { lnBetaTails } from './incomplete-beta.ts';
import { lnGammaTails } from './incomplete-gamma.ts';

const LN_2PI = 1.8378770664093453;

/** ln P(X = k) for X Poisson with this mean, exact for large k. Source: Loader 2000, “Fast and accurate computation of binomial probabilities”. */
export function lnPoisson(k: number, mean: number): number {
  if (k < 0) return -Infinity;
  if (mean === 0) return k === 0 ? 0 : -Infinity;
  if (k === 0) return -mean;
  return -halfDeviance(k, mean) - stirlingError(k) - 0.5 * (LN_2PI + Math.log(k));
}

/** P(X ≤ k), X Poisson. */
export function poissonLower(k: number, mean: number): number {
  if (k < 0) return 0;
  return mean === 0 ? 1 : Math.exp(lnGammaTails(Math.floor(k) + 1, mean).upper);
}

/** P(X ≥ k), X Poisson; exact in its own tail. */
export function poissonAtLeast(k: number, mean: number): number {
  if (k <= 0) return 1;
  return mean === 0 ? 0 : Math.exp(lnGammaTails(Math.ceil(k), mean).lower);
}

/** ln P(X = k) for X binomial(n, p). */
export function lnBinomial(k: number, n: number, p: number): number {
  if (k < 0 || k > n) return -Infinity;
  if (p === 0) return k === 0 ? 0 : -Infinity;
  if (p === 1) return k === n ? 0 : -Infinity;
  if (k === 0) return n * Math.log1p(-p);
  if (k === n) return n * Math.log(p);
  const errors = stirlingError(n) - stirlingError(k) - stirlingError(n - k);
  const away = halfDeviance(k, n * p) + halfDeviance(n - k, n * (1 - p));
  return errors - away + 0.5 * (Math.log(n / (k * (n - k))) - LN_2PI);
}

/** P(X ≤ k), X binomial(n, p). */
export function binomialLower(k: number, n: number, p: number): number {
  if (k < 0) return 0;
  if (k >= n) return 1;
  return Math.exp(lnBetaTails(Math.floor(k) + 1, n - Math.floor(k), p).upper);
}

/** P(X ≥ k), X binomial(n, p); exact in its own tail. */
export function binomialAtLeast(k: number, n: number, p: number): number {
  if (k <= 0) return 1;
  if (k > n) return 0;
  return Math.exp(lnBetaTails(Math.ceil(k), n - Math.ceil(k) + 1, p).lower);
}

/**
 * ln P(X = k) for X negative binomial with this mean and shape (variance mean + mean²/shape); shape → ∞ is Poisson.
 */
export function lnNegativeBinomial(k: number, mean: number, shape: number): number {
  if (k < 0) return -Infinity;
  if (mean === 0) return k === 0 ? 0 : -Infinity;
  if (shape === Infinity) return lnPoisson(k, mean);
  if (k === 0) return -shape * Math.log1p(mean / shape);
  // Γ(k+r)/(Γ(r) k!) · …  =  r/(r+k) · binomial(k; k+r, mean/(mean+r)) written with real r
  if (shape < 1e-12 * k) throw new RangeError(`negative binomial: shape ${shape} is too small beside ${k}`);
  const choose = -Math.log(k) - lnBeta(k, shape);
  return choose - shape * Math.log1p(mean / shape) - k * Math.log1p(shape / mean);
}

/** P(X ≤ k), X negative binomial. */
export function negativeBinomialLower(k: number, mean: number, shape: number): number {
  if (k < 0) return 0;
  if (mean === 0) return 1;
  if (shape === Infinity) return poissonLower(k, mean);
  return Math.exp(lnBetaTails(shape, Math.floor(k) + 1, shape / (shape + mean)).lower);
}

/** P(X ≥ k), X negative binomial. */
export function negativeBinomialAtLeast(k: number, mean: number, shape: number): number {
  if (k <= 0) return 1;
  if (mean === 0) return 0;
  if (shape === Infinity) return poissonAtLeast(k, mean);
  return Math.exp(lnBetaTails(shape, Math.ceil(k), shape / (shape + mean)).upper);
}

/** ln of n over k. */
export const lnChoose = (n: number, k: number): number =>
  k < 0 || k > n ? -Infinity : lnGamma(n + 1) - lnGamma(k + 1) - lnGamma(n - k + 1);

/** ln P(X = k): k marked among `drawn` taken without return from `total`, of which `marked` are marked. */
export const lnHypergeometric = (k: number, total: number, marked: number, drawn: number): number =>
  lnChoose(marked, k) + lnChoose(total - marked, drawn - k) - lnChoose(total, drawn);

/** ln P(X = k) for X beta-binomial: binomial with p drawn from beta(a, b). */
export const lnBetaBinomial = (k: number, n: number, a: number, b: number): number =>
  k < 0 || k > n ? -Infinity : lnChoose(n, k) + lnBeta(k + a, n - k + b) - lnBeta(a, b);

/** ln Σ exp(terms), without overflow. −∞ for none. */
export function lnSumExp(terms: Iterable<number>): number {
  const all = Array.isArray(terms) ? (terms as number[]) : [...terms];
  let top = -Infinity;
  for (const t of all) if (t > top) top = t;
  if (top === -Infinity || top === Infinity) return top;
  let sum = 0;
  for (const t of all) sum += Math.exp(t - top);
  return top + Math.log(sum);
}
