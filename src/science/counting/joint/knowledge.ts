/**
 * What is known of one number, as a table of its cumulative distribution: `share[i]` of the knowledge lies at or
 * below `at[i]`, evenly spread between neighbours. Sums and quotients of two such tables are exact for that shape,
 * so that no draw of chance enters a printed digit.
 */
export interface Knowledge {
  readonly at: Float64Array;
  readonly share: Float64Array;
}

/** A number known exactly (a table must have width, so it gets one that no print shows). */
export function known(value: number): Knowledge {
  const width = Math.max(Math.abs(value) * 1e-9, 1e-12);
  return { at: Float64Array.of(value - width, value + width), share: Float64Array.of(0, 1) };
}

/** Table from a density on rising points (trapezoids; any constant factor), the density being per unit of `along`. */
export function fromDensity(at: Float64Array, density: Float64Array, along: Float64Array = at): Knowledge {
  const share = new Float64Array(at.length);
  let sum = 0;
  for (let i = 1; i < at.length; i++) {
    sum += ((density[i]! + density[i - 1]!) / 2) * (along[i]! - along[i - 1]!);
    share[i] = sum;
  }
  if (!(sum > 0 && sum < Infinity))
    throw new RangeError(`density: a positive finite total is needed, found ${sum}`);
  for (let i = 0; i < at.length; i++) share[i] = share[i]! / sum;
  return { at, share };
}

/** Share of the knowledge at or below x. */
export function shareBelow(k: Knowledge, x: number): number {
  const last = k.at.length - 1;
  if (x <= k.at[0]!) return 0;
  if (x >= k.at[last]!) return 1;
  const i = cellOf(k.at, x);
  const width = k.at[i + 1]! - k.at[i]!;
  return k.share[i]! + ((k.share[i + 1]! - k.share[i]!) * (x - k.at[i]!)) / width;
}

/** The value that a share p of the knowledge lies below. */
export function valueAt(k: Knowledge, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`share: a number from 0 to 1 is needed, given ${p}`);
  let low = 0;
  let high = k.share.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (k.share[middle]! < p) low = middle;
    else high = middle;
  }
  const rise = k.share[high]! - k.share[low]!;
  if (!(rise > 0)) return k.at[high]!;
  return k.at[low]! + ((k.at[high]! - k.at[low]!) * (p - k.share[low]!)) / rise;
}

function cellOf(at: Float64Array, x: number): number {
  let low = 0;
  let high = at.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (at[middle]! <= x) low = middle;
    else high = middle;
  }
  return low;
}

/** ∫ of the share from the far left to each point: the running area under the cumulative curve. */
function areas(k: Knowledge): Float64Array {
  const out = new Float64Array(k.at.length);
  for (let i = 1; i < out.length; i++) {
    out[i] = out[i - 1]! + ((k.share[i]! + k.share[i - 1]!) / 2) * (k.at[i]! - k.at[i - 1]!);
  }
  return out;
}

/** Reads the running area at rising places with one pass over the table. */
function areaReader(k: Knowledge, area: Float64Array): (x: number) => number {
  const { at, share } = k;
  const last = at.length - 1;
  let i = 0;
  return (x) => {
    if (x <= at[0]!) return 0;
    if (x >= at[last]!) return area[last]! + (x - at[last]!);
    while (at[i + 1]! < x) i++;
    const width = at[i + 1]! - at[i]!;
    const t = x - at[i]!;
    return area[i]! + share[i]! * t + ((share[i + 1]! - share[i]!) * t * t) / (2 * width);
  };
}

/** Cells narrower than this, relative to where they lie, are taken at their middle: a difference of areas would drown. */
const NARROW = 1e-6;

/** Share of A − B at or below d, A and B independent. */
export function differenceBelow(a: Knowledge, b: Knowledge): (d: number) => number {
  const area = areas(a);
  return (d) => {
    // P(A ≤ d + B): the cumulative curve of A averaged over every cell of B
    const read = areaReader(a, area);
    let sum = 0;
    let before = read(d + b.at[0]!);
    for (let j = 1; j < b.at.length; j++) {
      const next = read(d + b.at[j]!);
      const weight = b.share[j]! - b.share[j - 1]!;
      const width = b.at[j]! - b.at[j - 1]!;
      if (weight > 0) {
        const narrow = width <= NARROW * Math.abs(d + b.at[j]!);
        sum += weight * (narrow ? shareBelow(a, d + (b.at[j]! + b.at[j - 1]!) / 2) : (next - before) / width);
      }
      before = next;
    }
    return sum;
  };
}

/** Share of A / B at or below q, A and B independent and B above 0 throughout. */
export function quotientBelow(a: Knowledge, b: Knowledge): (q: number) => number {
  const area = areas(a);
  const atZero = shareBelow(a, 0);
  return (q) => {
    if (q === 0) return atZero;
    const read = areaReader(a, area);
    const last = b.at.length - 1;
    let sum = 0;
    // the places q·B must rise, so B is walked backwards for a negative q
    for (let step = 1, before = read(q * b.at[q > 0 ? 0 : last]!); step <= last; step++) {
      const j = q > 0 ? step : last - step;
      const other = q > 0 ? j - 1 : j + 1;
      const next = read(q * b.at[j]!);
      const weight = Math.abs(b.share[j]! - b.share[other]!);
      const width = Math.abs(q) * Math.abs(b.at[j]! - b.at[other]!);
      if (weight > 0) {
        const narrow = width <= NARROW * Math.abs(q * b.at[j]!);
        sum +=
          weight * (narrow ? shareBelow(a, (q * (b.at[j]! + b.at[other]!)) / 2) : (next - before) / width);
      }
      before = next;
    }
    return sum;
  };
}

/** Table of a cumulative curve: points close in the middle, wide in the tails. */
export function tabulate(
  below: (x: number) => number,
  middle: number,
  spread: number,
  points = 128,
): Knowledge {
  const at = new Float64Array(points + 1);
  const share = new Float64Array(points + 1);
  for (let i = 0; i <= points; i++) {
    at[i] = middle + (spread / 2) * Math.sinh(-REACH + (2 * REACH * i) / points);
    share[i] = Math.min(1, Math.max(i > 0 ? share[i - 1]! : 0, below(at[i]!)));
  }
  const rest = share[points]! - share[0]!;
  if (!(rest > 0)) throw new RangeError('table: the curve does not rise over the points chosen');
  const start = share[0]!;
  for (let i = 0; i <= points; i++) share[i] = (share[i]! - start) / rest;
  return { at, share };
}

/** ½·sinh(4.6) ≈ 25 spreads to either side. */
const REACH = 4.6;

/** Middle and rough standard deviation of a table, from its quartile-like shares. */
export function middleAndSpread(k: Knowledge): { middle: number; spread: number } {
  const low = valueAt(k, 0.16);
  const high = valueAt(k, 0.84);
  return { middle: valueAt(k, 0.5), spread: (high - low) / 2 };
}

/** Solves below(x) = p by halving, between two values that bracket it (widened when they do not). */
export function solveBelow(below: (x: number) => number, p: number, middle: number, spread: number): number {
  let reach = Math.max(spread, 1e-12) * 2;
  let low = middle - reach;
  let high = middle + reach;
  for (let i = 0; i < 60 && below(low) > p; i++, reach *= 2) low -= reach;
  for (let i = 0; i < 60 && below(high) < p; i++, reach *= 2) high += reach;
  for (let i = 0; i < 60 && high - low > 1e-10 * (Math.abs(low) + Math.abs(high) + spread); i++) {
    const at = (low + high) / 2;
    if (below(at) < p) low = at;
    else high = at;
  }
  return (low + high) / 2;
}

/** Smaller factors are taken as this: a product goes by the reciprocal. */
const LEAST_DIVISOR = 1e-9;

/** Table of A·B, A and B independent, B above 0. */
export function productOf(a: Knowledge, b: Knowledge): Knowledge {
  const last = b.at.length - 1;
  // all of B at nothing (none of the tested pieces passed): so is the product, and no quotient could be told
  if (b.at[last]! <= LEAST_DIVISOR) return known(0);
  const inverse: Knowledge = {
    at: b.at.map((_, i) => 1 / Math.max(b.at[last - i]!, LEAST_DIVISOR)),
    share: b.share.map((_, i) => 1 - b.share[last - i]!),
  };
  // reciprocals of points at or below 0 would coincide
  for (let i = 1; i <= last; i++) inverse.at[i] = Math.max(inverse.at[i]!, inverse.at[i - 1]! * (1 + 1e-12));
  const below = quotientBelow(a, inverse);
  const left = middleAndSpread(a);
  const right = middleAndSpread(b);
  const middle = left.middle * right.middle;
  const spread = Math.hypot(left.spread * right.middle, right.spread * left.middle) + 1e-12;
  return tabulate(below, middle, spread);
}

/** Table of a cumulative curve between two ends, evenly laid. */
export function fromBelow(below: (x: number) => number, from: number, to: number, points = 64): Knowledge {
  const at = new Float64Array(points + 3);
  const share = new Float64Array(points + 3);
  const edge = (to - from) * 1e-9;
  // what lies beyond an end is put at the end itself
  at[0] = from - edge;
  at[points + 2] = to + edge;
  share[points + 2] = 1;
  for (let i = 0; i <= points; i++) {
    at[i + 1] = from + ((to - from) * i) / points;
    share[i + 1] = Math.min(1, Math.max(share[i]!, below(at[i + 1]!)));
  }
  return { at, share };
}
