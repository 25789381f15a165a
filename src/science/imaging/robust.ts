/** Middle and spread of numbers among which some do not belong. */

/** Median of the first n values; reorders them. NaN-free input is the caller's duty; n must be above 0. */
export function medianInPlace(values: Float32Array | Float64Array, n = values.length): number {
  if (!(n > 0)) throw new RangeError(`median: at least one value is needed, given ${n}`);
  const part = values.subarray(0, n).sort();
  const k = n >> 1;
  return n % 2 === 1 ? part[k]! : 0.5 * (part[k - 1]! + part[k]!);
}

/** Quantile by linear interpolation of sorted values. */
export function quantileOfSorted(sorted: Float32Array | Float64Array, n: number, q: number): number {
  const at = q * (n - 1);
  const k = Math.floor(at);
  const rest = at - k;
  return k + 1 < n ? sorted[k]! * (1 - rest) + sorted[k + 1]! * rest : sorted[n - 1]!;
}

/** 1.4826 · median absolute deviation: the standard deviation of normal values, blind to up to half strangers. */
export function spread(values: Float32Array, n = values.length): number {
  const mid = medianInPlace(values, n);
  for (let i = 0; i < n; i++) values[i] = Math.abs(values[i]! - mid);
  return 1.4826 * medianInPlace(values, n);
}

/**
 * Standard deviation by the middle half and by the outer tenth, the larger of the two: compression leaves most values
 * equal and a few far off, which the middle half alone would take for silence. Blind to up to a tenth strangers.
 */
export function tailedSpread(values: Float32Array, n = values.length): number {
  const mid = medianInPlace(values, n);
  for (let i = 0; i < n; i++) values[i] = Math.abs(values[i]! - mid);
  const half = 1.4826 * medianInPlace(values, n);
  return Math.max(half, quantileOfSorted(values, n, 0.88) / 1.555);
}
