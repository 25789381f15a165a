/** Settings of a baseline: smoothness λ (larger is stiffer) and when to stop. */
export interface BaselineWish {
  readonly lambda: number;
  readonly rounds?: number;
}

/**
 * Asymmetric least squares: z minimising Σ w (y − z)² + λ Σ (Δ²z)², w = p above the line and 1 − p below, from w = 1
 * until the weights stay.
 * Source: Eilers & Boelens 2005 (report); recommended p 0.001–0.1, λ 10²–10⁹.
 */
export function asymmetricBaseline(y: Float64Array, p: number, wish: BaselineWish): Float64Array {
  let weights = new Float64Array(y.length).fill(1);
  let z = smoothed(y, weights, wish.lambda);
  for (let round = 0; round < (wish.rounds ?? 25); round++) {
    const next = y.map((v, k) => (v > z[k]! ? p : 1 - p));
    if (next.every((w, k) => w === weights[k])) break;
    weights = next;
    z = smoothed(y, weights, wish.lambda);
  }
  return z;
}

/**
 * Asymmetrically reweighted penalised least squares: the weights of points above the line follow a logistic curve set by
 * the scatter of the points below it, so that noise does not push the line down.
 * Source: Baek, Park, Ahn & Choo 2015, Analyst 140:250 (method; λ after the length of the spectrum is common practice).
 */
export function reweightedBaseline(y: Float64Array, wish: BaselineWish): Float64Array {
  let weights = new Float64Array(y.length).fill(1);
  let z = smoothed(y, weights, wish.lambda);
  for (let round = 0; round < (wish.rounds ?? 30); round++) {
    let n = 0;
    let mean = 0;
    let square = 0;
    for (let k = 0; k < y.length; k++) {
      const d = y[k]! - z[k]!;
      if (d >= 0) continue;
      n++;
      mean += d;
      square += d * d;
    }
    if (n < 2) break;
    mean /= n;
    const sd = Math.sqrt(Math.max(square / n - mean * mean, 0));
    if (sd === 0) break;
    const next = y.map((v, k) => {
      const power = (2 * (v - z[k]! - (2 * sd - mean))) / sd;
      return power > 500 ? 0 : 1 / (1 + Math.exp(power));
    });
    let change = 0;
    let size = 0;
    for (let k = 0; k < y.length; k++) {
      change += (next[k]! - weights[k]!) ** 2;
      size += weights[k]! ** 2;
    }
    weights = next;
    z = smoothed(y, weights, wish.lambda);
    if (change < 1e-6 * size) break;
  }
  return z;
}

/** Solves (W + λ D'D) z = W y, a system of five diagonals, by its LDL' factors. */
function smoothed(y: Float64Array, w: Float64Array, lambda: number): Float64Array {
  const n = y.length;
  if (n < 3) throw new RangeError(`baseline: at least 3 points are needed, given ${n}`);
  const d = new Float64Array(n);
  const e = new Float64Array(n);
  const f = new Float64Array(n);
  const z = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const edge = Math.min(i, n - 1 - i);
    const main = n === 3 ? [1, 4, 1][i]! : edge === 0 ? 1 : edge === 1 ? 5 : 6;
    const near = i + 1 < n ? (i === 0 || i === n - 2 ? -2 : -4) : 0;
    const far = i + 2 < n ? 1 : 0;
    let diagonal = w[i]! + lambda * main;
    let first = lambda * near;
    if (i >= 1) {
      diagonal -= e[i - 1]! ** 2 * d[i - 1]!;
      first -= e[i - 1]! * f[i - 1]! * d[i - 1]!;
    }
    if (i >= 2) diagonal -= f[i - 2]! ** 2 * d[i - 2]!;
    d[i] = diagonal;
    e[i] = first / diagonal;
    f[i] = (lambda * far) / diagonal;
    z[i] = w[i]! * y[i]! - (i >= 1 ? e[i - 1]! * z[i - 1]! : 0) - (i >= 2 ? f[i - 2]! * z[i - 2]! : 0);
  }
  for (let i = 0; i < n; i++) z[i]! /= d[i]!;
  for (let i = n - 2; i >= 0; i--) {
    z[i]! -= e[i]! * z[i + 1]! + (i + 2 < n ? f[i]! * z[i + 2]! : 0);
  }
  return z;
}
