import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

/** Whether the ordinates say nothing at all, whatever their unit; null where they vary. */
export function flatness(y: Float64Array, name: string): Refusal | null {
  let low = y[0]!;
  let high = y[0]!;
  for (const v of y) {
    if (v < low) low = v;
    if (v > high) high = v;
  }
  if (high - low > 1e-9 * Math.max(Math.abs(low), Math.abs(high))) return null;
  return {
    why: 'flat',
    message: `${name} is flat: every ordinate is ${y[0]}. Was the sample under the beam?`,
  };
}

/**
 * A band cut off flat at its top (no light left, or a detector at its end). A long run at the foot is none: spectra with
 * their base taken off often stand at 0.
 */
export function saturation(height: Float64Array, name: string): Refusal | null {
  const high = height.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const longest = longestRun(height, high);
  if (longest <= Math.max(12, 0.04 * height.length)) return null;
  return {
    why: 'saturated',
    message: `${name} is cut off flat at the top of its bands over ${longest} points in a row: the detector or the range was saturated. Measure it again with less of the sample or less light.`,
  };
}

/**
 * Says that the strongest bands are cut off at one height over fewer points than are refused: the spectrum falls off the
 * flat top by three hundredths of its range within two points, which neither a band nor rounding does. Null where it does not.
 */
export function flatTops(axis: Float64Array, height: Float64Array): string | null {
  let high = Number.NEGATIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  for (const v of height) {
    if (v > high) high = v;
    if (v < low) low = v;
  }
  const places: number[] = [];
  for (let k = 0; k < height.length; k++) {
    if (height[k] !== high) continue;
    let end = k;
    while (end + 1 < height.length && height[end + 1] === high) end++;
    const fall = (at: number) => at < 0 || at >= height.length || high - height[at]! >= 0.03 * (high - low);
    if (end - k + 1 >= 5 && fall(k - 2) && fall(end + 2)) places.push(axis[(k + end) >> 1]!);
    k = end;
  }
  if (places.length === 0) return null;
  const named = places.slice(0, 3).map((at) => Math.round(at));
  return `Its strongest bands are cut off flat (at ${named.join(', ')} cm⁻¹): too much of the sample or of the light. The likeness is worth less; measure again if you can.`;
}

function longestRun(y: Float64Array, edge: number): number {
  let run = 0;
  let longest = 0;
  for (const v of y) {
    run = v === edge ? run + 1 : 0;
    if (run > longest) longest = run;
  }
  return longest;
}

/**
 * Absorbance from what the file has: −log₁₀ of transmittance or (as apparent absorbance) of reflectance.
 * The unit is the file's; only whether per cent or parts of one is read from the numbers, as writers mix them.
 */
export function toAbsorbance(
  y: Float64Array,
  unit: string | null,
  name: string,
  taken: string[],
): Outcome<Float64Array> {
  const sorted = Float64Array.from(y).sort();
  const high = sorted.at(-1)!;
  const middle = sorted[Math.floor(sorted.length / 2)]!;
  const low = sorted[0]!;
  const silent =
    unit === null || !/^(%T|transmittance|%R|reflectance|absorbance|kubelka-munk|intensity)$/.test(unit);
  // Most of a spectrum is baseline: high in transmittance, low in absorbance.
  const kind =
    !silent && unit !== 'intensity'
      ? unit
      : high > 15
        ? '%T'
        : middle - low > 0.6 * (high - low) && high <= 1.6 && low > -0.05
          ? 'transmittance'
          : 'absorbance';
  if (silent || unit === 'intensity') {
    taken.push(
      `The ordinate names no unit; its numbers are those of ${kind === '%T' ? 'per cent transmittance' : kind}.`,
    );
  }
  if (kind === 'absorbance' || kind === 'kubelka-munk') {
    if (high > 12 || low < -6) {
      return refused({
        why: 'wrong-units',
        message: `${name} says ${kind} and runs from ${short(low)} to ${short(high)}: absorbances lie between 0 and about 6. Is it per cent transmittance?`,
      });
    }
    return done(y);
  }
  const per = high > 2 ? 100 : 1;
  if (high > 400 || low < -0.5 * per) {
    return refused({
      why: 'wrong-units',
      message: `${name} says ${kind} and runs from ${short(low)} to ${short(high)}: per cent lie between 0 and a little over 100. Check the unit of the ordinate.`,
    });
  }
  // Below a thousandth nothing but stray light is measured.
  return done(y.map((v) => -Math.log10(Math.max(v / per, 1e-3))));
}

const short = (n: number): number => Number(n.toPrecision(4));
