/**
 * Smoothing or derivative by a polynomial fitted to a moving window; at both ends the polynomial of the first and last
 * whole window is read off its middle, so that nothing is invented beyond the data. Per point of the grid.
 * Source: Savitzky & Golay 1964, Anal. Chem. 36:1627 (corrected by Steinier, Termonia & Deltour 1972, 44:1906).
 * Throws RangeError where the window is even, shorter than the degree asks, or longer than the data.
 */
export function savitzkyGolay(
  y: Float64Array,
  window: number,
  degree: number,
  derivative: number,
): Float64Array {
  if (window % 2 !== 1 || window <= degree || derivative > degree || window > y.length) {
    throw new RangeError(
      `window ${window}, degree ${degree}, derivative ${derivative}: an odd window above the degree and within the ${y.length} points is needed`,
    );
  }
  const half = (window - 1) / 2;
  const out = new Float64Array(y.length);
  const middle = savitzkyGolayWeights(window, degree, derivative, 0);
  for (let i = half; i < y.length - half; i++) {
    let sum = 0;
    for (let k = 0; k < window; k++) sum += middle[k]! * y[i - half + k]!;
    out[i] = sum;
  }
  for (let i = 0; i < half; i++) {
    const left = savitzkyGolayWeights(window, degree, derivative, i - half);
    const right = savitzkyGolayWeights(window, degree, derivative, half - i);
    let low = 0;
    let high = 0;
    for (let k = 0; k < window; k++) {
      low += left[k]! * y[k]!;
      high += right[k]! * y[y.length - window + k]!;
    }
    out[i] = low;
    out[y.length - 1 - i] = high;
  }
  return out;
}

const known = new Map<string, Float64Array>();

/** Weights of the window's points for the fitted polynomial's derivative at `place` (0 is the middle). */
export function savitzkyGolayWeights(
  window: number,
  degree: number,
  derivative: number,
  place: number,
): Float64Array {
  const key = `${window} ${degree} ${derivative} ${place}`;
  const before = known.get(key);
  if (before) return before;
  const half = (window - 1) / 2;
  // Orthogonal polynomials on the window (Gram–Schmidt), each as coefficients of powers of t.
  const basis: number[][] = [];
  const at = (p: readonly number[], t: number) => p.reduceRight((sum, c) => sum * t + c, 0);
  const dot = (p: readonly number[], q: readonly number[]) => {
    let sum = 0;
    for (let t = -half; t <= half; t++) sum += at(p, t) * at(q, t);
    return sum;
  };
  for (let n = 0; n <= degree; n++) {
    const p: number[] = Array.from({ length: degree + 1 }, (_, k) => (k === n ? 1 : 0));
    for (const q of basis) {
      const share = dot(p, q) / dot(q, q);
      for (let k = 0; k <= degree; k++) p[k]! -= share * q[k]!;
    }
    basis.push(p);
  }
  const derived = (p: readonly number[]) => {
    let d = [...p];
    for (let n = 0; n < derivative; n++) d = d.slice(1).map((c, k) => c * (k + 1));
    return at(d, place);
  };
  const weights = new Float64Array(window);
  for (const p of basis) {
    const scale = derived(p) / dot(p, p);
    for (let k = 0; k < window; k++) weights[k]! += scale * at(p, k - half);
  }
  known.set(key, weights);
  return weights;
}
