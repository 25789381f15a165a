/** Middle and spread of numbers among which some do not belong. */

/** The k-th smallest (from 0) of values[from…to], which are partly reordered. Source of the method: Hoare, 1961 (FIND). */
function select(values: Float32Array | Float64Array, from: number, to: number, k: number): number {
  let low = from;
  let high = to;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const t = values[i]!;
        values[i] = values[j]!;
        values[j] = t;
        i++;
        j--;
      }
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k]!;
}

/** Median of the first n values; reorders them. NaN-free input is the caller's duty; n must be above 0. */
export function medianInPlace(values: Float32Array | Float64Array, n = values.length): number {
  if (!(n > 0)) throw new RangeError(`median: at least one value is needed, given ${n}`);
  const k = n >> 1;
  const upper = select(values, 0, n - 1, k);
  if (n % 2 === 1) return upper;
  let lower = values[0]!;
  for (let i = 1; i < k; i++) if (values[i]! > lower) lower = values[i]!;
  return 0.5 * (lower + upper);
}

/** Quantile by linear interpolation of sorted values. */
export function quantileOfSorted(sorted: Float32Array | Float64Array, n: number, q: number): number {
  const at = q * (n - 1);
  const k = Math.floor(at);
  const rest = at - k;
  return k + 1 < n ? sorted[k]! * (1 - rest) + sorted[k + 1]! * rest : sorted[n - 1]!;
}

/** As `quantileOfSorted`, of values in any order; reorders them. */
export function quantileInPlace(values: Float32Array | Float64Array, n: number, q: number): number {
  const at = q * (n - 1);
  const k = Math.floor(at);
  const rest = at - k;
  const own = select(values, 0, n - 1, k);
  if (k + 1 >= n) return own;
  let above = values[k + 1]!;
  for (let i = k + 2; i < n; i++) if (values[i]! < above) above = values[i]!;
  return own * (1 - rest) + above * rest;
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
  return Math.max(half, quantileInPlace(values, n, 0.88) / 1.555);
}
