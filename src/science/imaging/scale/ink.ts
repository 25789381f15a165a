/** What the print looks like on average across a line, and where its middle lies in each traced piece. */
import type { Piece } from './trace.ts';

/** The print's mean course across a line. */
export interface InkProfile {
  /** Signed departure from the membrane at offsets (i − (n − 1)/2) · spacing from the print's own middle. */
  readonly course: Float64Array;
  readonly spacing: number;
  /** Largest departure, signed: negative is darker. */
  readonly depth: number;
  /** Full width at half depth, px. */
  readonly widthPx: number;
  /** Where the print's middle lies from the supposed line, px. */
  readonly offsetPx: number;
}

function median(values: number[]): number {
  values.sort((a, b) => a - b);
  const m = values.length >> 1;
  return values.length % 2 ? values[m]! : 0.5 * (values[m - 1]! + values[m]!);
}

/** Membrane brightness beside a piece: the median of its outer samples. */
function beside(across: Float64Array): number {
  const n = across.length;
  const q = Math.max(2, Math.floor(n / 5));
  const outer: number[] = [];
  for (let k = 0; k < q; k++) outer.push(across[k]!, across[n - 1 - k]!);
  return median(outer);
}

/** Mean over the middle half of the pieces at each offset: gaps and covered places fall out while most ink is seen. */
export function inkProfile(all: readonly Piece[], spacing: number): InkProfile | null {
  const pieces = all.length < 4 ? all : evenGround(all);
  if (pieces.length < 4) return null;
  const n = pieces[0]!.across.length;
  // A couple of hundred pieces, spread over all, settle the course.
  const every = Math.ceil(pieces.length / 200);
  const some = every === 1 ? pieces : pieces.filter((_, i) => i % every === 0);
  return meanCourse(some, n, spacing);
}

/** Where a share of pieces this far out in either tail lies: enough when only a quarter of a line is inked or in view. */
const TAIL = 0.12;

/** Course of the darker or the paler tail, whichever stands out more: for print that most pieces do not show. */
export function tailProfile(pieces: readonly Piece[], spacing: number): InkProfile | null {
  return pieces.length < 12 ? null : tailCourse(evenGround(pieces), spacing);
}

/** Pieces with the same ground on both sides: those across the filter's rim or a large piece's edge are left out. */
function evenGround(pieces: readonly Piece[]): readonly Piece[] {
  const steps = pieces.map(({ across }) => {
    const q = Math.max(2, Math.floor(across.length / 5));
    return Math.abs(median([...across.subarray(0, q)]) - median([...across.subarray(across.length - q)]));
  });
  const limit = Math.max(0.05, 4 * median([...steps]));
  return pieces.filter((_, i) => steps[i]! <= limit);
}

function tailCourse(pieces: readonly Piece[], spacing: number): InkProfile | null {
  if (pieces.length < 12) return null;
  const n = pieces[0]!.across.length;
  const levels = pieces.map((p) => beside(p.across));
  const tails = [new Float64Array(n), new Float64Array(n)] as const;
  const column = new Float64Array(pieces.length);
  const at = Math.floor(TAIL * pieces.length);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < pieces.length; i++) column[i] = pieces[i]!.across[k]! - levels[i]!;
    column.sort();
    tails[0][k] = column[at]!;
    tails[1][k] = column[column.length - 1 - at]!;
  }
  let best: InkProfile | null = null;
  for (const [course, sign] of [
    [tails[0], -1],
    [tails[1], 1],
  ] as const) {
    const sorted = [...course].sort((a, b) => a - b);
    const spread = sorted[Math.floor(0.75 * n)]! - sorted[Math.floor(0.25 * n)]!;
    const found = measured(course, spacing);
    if (!found || found.depth * sign <= 0 || Math.abs(found.depth) < 4 * spread) continue;
    if (found.widthPx > 0.3 * n * spacing) continue;
    if (!best || Math.abs(found.depth) > Math.abs(best.depth)) best = found;
  }
  return best;
}

function meanCourse(pieces: readonly Piece[], n: number, spacing: number): InkProfile | null {
  const levels = pieces.map((p) => beside(p.across));
  const course = new Float64Array(n);
  const column = new Float64Array(pieces.length);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < pieces.length; i++) column[i] = pieces[i]!.across[k]! - levels[i]!;
    column.sort();
    const from = Math.floor(column.length * 0.25);
    const to = Math.ceil(column.length * 0.75);
    let sum = 0;
    for (let i = from; i < to; i++) sum += column[i]!;
    course[k] = sum / (to - from);
  }
  return measured(course, spacing);
}

/** Top, width and middle of a course; the middle is that of its two half-depth crossings. */
function measured(course: Float64Array, spacing: number): InkProfile | null {
  const n = course.length;
  const base = beside(course);
  for (let k = 0; k < n; k++) course[k]! -= base;
  let top = 0;
  for (let k = 1; k < n; k++) if (Math.abs(course[k]!) > Math.abs(course[top]!)) top = k;
  const depth = course[top]!;
  if (depth === 0) return null;
  const share = (k: number) => course[k]! / depth;
  let left = top;
  while (left > 0 && share(left - 1) > 0.5) left--;
  let right = top;
  while (right < n - 1 && share(right + 1) > 0.5) right++;
  if (left === 0 || right === n - 1) return null;
  const a = left - (share(left) - 0.5) / (share(left) - share(left - 1));
  const b = right + (share(right) - 0.5) / (share(right) - share(right + 1));
  return {
    course,
    spacing,
    depth,
    widthPx: Math.max(spacing, (b - a) * spacing),
    offsetPx: ((a + b) / 2 - (n - 1) / 2) * spacing,
  };
}

/** The print's course made even about its middle and free of level: what a piece is compared with. */
export interface Stamp {
  readonly values: Float64Array;
  readonly half: number;
  readonly spacing: number;
  readonly depth: number;
}

export function stampOf(ink: InkProfile): Stamp {
  const n = ink.course.length;
  const middle = (n - 1) / 2 + ink.offsetPx / ink.spacing;
  const room = Math.floor(Math.min(middle, n - 1 - middle));
  const half = Math.max(1, Math.min(room, Math.ceil((1.1 * ink.widthPx) / ink.spacing) + 1));
  const values = new Float64Array(2 * half + 1);
  const read = (k: number) => {
    const i = Math.max(0, Math.min(n - 2, Math.floor(k)));
    return ink.course[i]! + (k - i) * (ink.course[i + 1]! - ink.course[i]!);
  };
  let mean = 0;
  for (let k = -half; k <= half; k++) {
    const v = 0.5 * (read(middle + k) + read(middle - k));
    values[k + half] = v;
    mean += v / values.length;
  }
  let power = 0;
  for (let k = 0; k < values.length; k++) {
    values[k]! -= mean;
    power += values[k]! ** 2;
  }
  // Normalised so that a perfect copy gives 1.
  for (let k = 0; k < values.length; k++) values[k]! /= power;
  return { values, half, spacing: ink.spacing, depth: ink.depth };
}

export interface Match {
  /** Middle of the print from the supposed line, px. */
  readonly offsetPx: number;
  /** Depth as a share of the print's mean depth. */
  readonly strength: number;
  /** Likeness of course, −1 to 1. */
  readonly likeness: number;
}

/** Best place of the stamp within ± `search` px, to a fraction of the spacing by the parabola through the top three. */
export function matchInk(piece: Piece, stamp: Stamp, search: number): Match | null {
  const { values, half, spacing } = stamp;
  const n = piece.across.length;
  const middle = (n - 1) / 2;
  const most = Math.min(Math.floor(search / spacing), Math.floor(middle) - half);
  if (most < 1) return null;
  const answer = (s: number) => {
    let sum = 0;
    const from = middle + s - half;
    for (let k = 0; k < values.length; k++) sum += values[k]! * piece.across[from + k]!;
    return sum;
  };
  let best = 0;
  let top = Number.NEGATIVE_INFINITY;
  for (let s = -most; s <= most; s++) {
    const a = answer(s);
    if (a > top) {
      top = a;
      best = s;
    }
  }
  if (Math.abs(best) === most) return null;
  const [a, b] = [answer(best - 1), answer(best + 1)];
  const bow = a + b - 2 * top;
  const part = bow < 0 ? Math.max(-0.5, Math.min(0.5, (a - b) / (2 * bow))) : 0;
  let mean = 0;
  const from = middle + best - half;
  for (let k = 0; k < values.length; k++) mean += piece.across[from + k]! / values.length;
  let own = 0;
  let stampPower = 0;
  for (let k = 0; k < values.length; k++) {
    own += (piece.across[from + k]! - mean) ** 2;
    stampPower += values[k]! ** 2;
  }
  const likeness = own > 0 ? top / Math.sqrt(own * stampPower) : 0;
  return { offsetPx: (best + part) * spacing, strength: top, likeness };
}
