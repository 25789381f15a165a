/**
 * Sums of ridge values along all straight lines that cross a strip of the picture, for all slopes up to 45°, built up
 * by doubling: a line across 2n rows is a line across the upper n joined to one across the lower n. Strips rather than
 * the whole picture, so that a line bent by the lens or partly missing still shows.
 */

/** One set of sums: lines that cross `size` rows, moving 0…size − 1 columns to the right on the way down. */
export interface StripSums {
  /** Which picture was summed: `turned` swaps x and y, `mirrored` then reverses the first axis. */
  readonly turned: boolean;
  readonly mirrored: boolean;
  readonly size: number;
  /** Slopes 0…slopes − 1 were summed. */
  readonly slopes: number;
  readonly strips: number;
  /** Columns with the margin of `size` at the left. */
  readonly columns: number;
  readonly across: number;
  readonly down: number;
  /** Sum for strip b, slope s, starting column x at [(b·size + s)·columns + x]. */
  readonly sums: Float32Array;
  /** Spread of the sums where nothing lies, by their median; never under that of independent noise. */
  readonly noise: number;
}

function oriented(values: Float32Array, width: number, height: number, turned: boolean, mirrored: boolean) {
  const across = turned ? height : width;
  const down = turned ? width : height;
  const out = new Float32Array(values.length);
  for (let j = 0; j < down; j++) {
    for (let i = 0; i < across; i++) {
      const a = mirrored ? across - 1 - i : i;
      out[j * across + i] = turned ? values[a * width + j]! : values[j * width + a]!;
    }
  }
  return { out, across, down };
}

export function stripSums(
  values: Float32Array,
  width: number,
  height: number,
  size: number,
  turned: boolean,
  mirrored: boolean,
  steepest: number,
): StripSums {
  const { out, across, down } = oriented(values, width, height, turned, mirrored);
  const strips = Math.ceil(down / size);
  const columns = across + size;
  let now = new Float32Array(strips * size * columns);
  for (let j = 0; j < down; j++) now.set(out.subarray(j * across, (j + 1) * across), j * columns + size);
  let next = new Float32Array(now.length);
  const slopes = Math.min(size, Math.ceil(steepest * (size - 1)) + 2);
  for (let n = 1; n < size; n *= 2) {
    const most = Math.min(2 * n, Math.ceil(((slopes - 1) * 2 * n) / size) + 1);
    for (let top = 0; top < strips * size; top += 2 * n) {
      for (let s = 0; s < most; s++) {
        const half = s >> 1;
        const shift = s - half;
        const upper = (top + half) * columns;
        const lower = (top + n + half) * columns + shift;
        const to = (top + s) * columns;
        const end = columns - shift;
        for (let x = 0; x < end; x++) next[to + x] = now[upper + x]! + now[lower + x]!;
        for (let x = end; x < columns; x++) next[to + x] = now[upper + x]!;
      }
    }
    [now, next] = [next, now];
  }
  return {
    turned,
    mirrored,
    size,
    slopes,
    strips,
    columns,
    across,
    down,
    sums: now,
    noise: spreadOf(now, size, slopes, columns),
  };
}

function spreadOf(sums: Float32Array, size: number, slopes: number, columns: number): number {
  const sample: number[] = [];
  const strip = size * columns;
  for (let i = 0; i < sums.length; i += 61) {
    if (i % strip < slopes * columns && sums[i] !== 0) sample.push(Math.abs(sums[i]!));
  }
  sample.sort((a, b) => a - b);
  return Math.max(Math.sqrt(size), (sample[sample.length >> 1] ?? 0) / 0.6745);
}

/** A straight piece of line: its middle in working px, its slope across per step along, and its strength in noise units. */
export interface Segment {
  readonly x: number;
  readonly y: number;
  /** Angle of the lattice that this line would belong to, radians: rows fall to the right when positive. */
  readonly turn: number;
  readonly strength: number;
}

/** Strength of each slope, summed over all places: index size − 1 + s for signed slope s, lattice angle atan(s/(size−1)). */
export function slopeStrength(sets: readonly StripSums[], sign: number): Float64Array {
  const size = sets[0]!.size;
  const out = new Float64Array(2 * size - 1);
  for (const set of sets) {
    for (let b = 0; b < set.strips; b++) {
      const rows = Math.min(size, set.down - b * size);
      if (rows < size / 2) continue;
      const unit = sign / (set.noise * Math.sqrt(rows / size));
      for (let s = 0; s < set.slopes; s++) {
        const base = (b * size + s) * set.columns;
        let sum = 0;
        for (let x = 0; x < set.columns; x++) {
          const z = set.sums[base + x]! * unit - 5;
          if (z > 0) sum += Math.min(z, 15);
        }
        out[size - 1 + signedSlope(set, s)]! += sum;
      }
    }
  }
  return out;
}

/** Upright lines lean left for a positive lattice angle, level ones fall to the right. */
function signedSlope(set: StripSums, s: number): number {
  const lean = set.mirrored ? -s : s;
  return set.turned ? lean : -lean;
}

/** The strongest pieces of line near a lattice angle, one per place. */
export function segmentsNear(
  sets: readonly StripSums[],
  turn: number,
  within: number,
  sign: number,
  apart: number,
): Segment[] {
  const found: Segment[] = [];
  const size = sets[0]!.size;
  const { across, down, strips } = sets[0]!;
  const best = new Float32Array(across);
  const slope = new Int32Array(across);
  for (let b = 0; b < strips; b++) {
    const rows = Math.min(size, down - b * size);
    if (rows < size / 2) continue;
    best.fill(0);
    for (const set of sets) {
      const unit = sign / (set.noise * Math.sqrt(rows / size));
      for (let s = 0; s < set.slopes; s++) {
        const signed = signedSlope(set, s);
        if (Math.abs(Math.atan(signed / (size - 1)) - turn) > within) continue;
        const base = (b * size + s) * set.columns;
        // Middle of the rows that exist, s·(rows − 1)/(2(size − 1)) to the right of the start.
        const ahead = Math.round((s * (rows - 1)) / (2 * (size - 1)));
        for (let x = 0; x < set.columns; x++) {
          let c = x - size + ahead;
          if (c < 0 || c >= across) continue;
          if (set.mirrored) c = across - 1 - c;
          const z = set.sums[base + x]! * unit;
          if (z > best[c]!) {
            best[c] = z;
            slope[c] = signed;
          }
        }
      }
    }
    for (let c = 0; c < across; c++) {
      const z = best[c]!;
      if (z < 5) continue;
      let top = true;
      for (let k = Math.max(0, c - apart); top && k <= Math.min(across - 1, c + apart); k++) {
        if (best[k]! > z || (best[k] === z && k < c)) top = false;
      }
      if (!top) continue;
      const middle = b * size + rows / 2;
      const turned = sets[0]!.turned;
      found.push({
        x: turned ? middle : c + 0.5,
        y: turned ? c + 0.5 : middle,
        turn: Math.atan(slope[c]! / (size - 1)),
        strength: z,
      });
    }
  }
  return found;
}
