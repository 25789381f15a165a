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

/** Above this many values they are counted into bins first: counting meets no surprise, partitioning one every other value. */
const MANY = 4096;
const BINS = 2048;

/**
 * The k-th and (k + 1)-th smallest (from 0) of the first n values, left as they are: counted into even bins, then those of
 * one bin selected. The second is infinite where there is none.
 */
function twoSmallest(values: Float32Array | Float64Array, n: number, k: number): [number, number] {
  let low = values[0]!;
  let high = low;
  for (let i = 1; i < n; i++) {
    const v = values[i]!;
    if (v < low) low = v;
    if (v > high) high = v;
  }
  const per = high > low ? (BINS - 1e-3) / (high - low) : 0;
  const counts = new Int32Array(BINS);
  for (let i = 0; i < n; i++) counts[((values[i]! - low) * per) | 0]!++;
  let bin = 0;
  let before = 0;
  while (before + counts[bin]! <= k) before += counts[bin++]!;
  const own = new Float64Array(counts[bin]!);
  let m = 0;
  let above = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const v = values[i]!;
    const b = ((v - low) * per) | 0;
    if (b === bin) own[m++] = v;
    else if (b > bin && v < above) above = v;
  }
  const first = select(own, 0, m - 1, k - before);
  for (let i = k - before + 1; i < m; i++) if (own[i]! < above) above = own[i]!;
  return [first, above];
}

/** The k-th smallest (from 0) of the first n values; reorders them. */
export const kthSmallest = (values: Float32Array | Float64Array, n: number, k: number): number =>
  select(values, 0, n - 1, k);

/** Median of the first n values; may reorder them. NaN-free input is the caller's duty; n must be above 0. */
export function medianInPlace(values: Float32Array | Float64Array, n = values.length): number {
  if (!(n > 0)) throw new RangeError(`median: at least one value is needed, given ${n}`);
  const k = n >> 1;
  if (n > MANY) {
    if (n % 2 === 1) return twoSmallest(values, n, k)[0];
    const [below, above] = twoSmallest(values, n, k - 1);
    return 0.5 * (below + above);
  }
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

/** As `quantileOfSorted`, of values in any order; may reorder them. */
export function quantileInPlace(values: Float32Array | Float64Array, n: number, q: number): number {
  const at = q * (n - 1);
  const k = Math.floor(at);
  const rest = at - k;
  if (n > MANY) {
    const [first, second] = twoSmallest(values, n, k);
    return k + 1 < n ? first * (1 - rest) + second * rest : first;
  }
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

/** Below this many values the engine's own sort is quicker. */
const FEW = 400;
const DIGIT = 11;
const SIZE = 1 << DIGIT;

/** Room to sort in, kept from one time to the next. */
const counts = [new Int32Array(SIZE), new Int32Array(SIZE), new Int32Array(SIZE)] as const;
let from = new Uint32Array(0);
let to = new Uint32Array(0);

/**
 * The values in rising order; they are left as they are. Three rounds of counting on the bits of a number, turned so that
 * they rise with it (IEEE 754, binary32). NaN-free input is the caller's duty.
 */
export function ascending(values: Float32Array): Float32Array {
  const n = values.length;
  const out = values.slice();
  if (n < FEW) return out.sort();
  if (from.length < n) {
    from = new Uint32Array(2 * n);
    to = new Uint32Array(2 * n);
  }
  const bits = new Uint32Array(out.buffer, out.byteOffset, n);
  const [low, mid, high] = counts;
  for (const count of counts) count.fill(0);
  for (let i = 0; i < n; i++) {
    const b = bits[i]!;
    const key = (b >>> 31 ? ~b : b | 0x80000000) >>> 0;
    from[i] = key;
    low[key & (SIZE - 1)]!++;
    mid[(key >>> DIGIT) & (SIZE - 1)]!++;
    high[key >>> (2 * DIGIT)]!++;
  }
  for (const count of counts) {
    let before = 0;
    for (let k = 0; k < SIZE; k++) {
      const own = count[k]!;
      count[k] = before;
      before += own;
    }
  }
  for (let i = 0; i < n; i++) to[low[from[i]! & (SIZE - 1)]!++] = from[i]!;
  for (let i = 0; i < n; i++) from[mid[(to[i]! >>> DIGIT) & (SIZE - 1)]!++] = to[i]!;
  for (let i = 0; i < n; i++) {
    const key = from[i]!;
    bits[high[key >>> (2 * DIGIT)]!++] = key >>> 31 ? key ^ 0x80000000 : ~key;
  }
  return out;
}
