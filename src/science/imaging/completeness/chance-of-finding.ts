/** From found and not found to the chance of being found by size, with intervals. */
import { findLowest, findRoot, normalQuantile } from '../../maths/index.ts';

export interface Trial {
  readonly sizeUm: number;
  readonly found: boolean;
}

export interface Share {
  readonly found: number;
  readonly drawn: number;
  readonly share: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Found over drawn with its score interval.
 * Source: Wilson 1927, J. Am. Stat. Assoc. 22:209; recommended for proportions by Newcombe 1998, Stat. Med. 17:857.
 * Holds for: independent trials of one chance. Deceives when: pieces of quite different visibility are pooled.
 */
export function shareFound(found: number, drawn: number, confidence: number): Share {
  if (!(Number.isInteger(found) && Number.isInteger(drawn) && found >= 0 && found <= drawn && drawn > 0)) {
    throw new RangeError(
      `found of drawn: whole numbers with 0 ≤ found ≤ drawn and drawn above 0, given ${found} of ${drawn}`,
    );
  }
  const z = normalQuantile(0.5 + confidence / 2);
  const p = found / drawn;
  const zz = (z * z) / drawn;
  const middle = (p + zz / 2) / (1 + zz);
  const half = (z * Math.sqrt((p * (1 - p)) / drawn + zz / (4 * drawn))) / (1 + zz);
  // At the ends the score interval touches 0 and 1 exactly; rounding must not step over.
  const lower = found === 0 ? 0 : Math.max(0, middle - half);
  const upper = found === drawn ? 1 : Math.min(1, middle + half);
  return { found, drawn, share: p, lower, upper };
}

/** ln chance = a + b·(ln size − centre) on the logit scale. */
export interface Curve {
  readonly a: number;
  readonly b: number;
  readonly centre: number;
  /** Penalised log likelihood at the fit. */
  readonly likelihood: number;
}

interface Point {
  readonly x: number;
  readonly n: number;
  readonly k: number;
}

const squeeze = (t: number) => 1 / (1 + Math.exp(-t));

/** Trials gathered by size; x is ln size less its mean. */
function gathered(trials: readonly Trial[]): { points: Point[]; centre: number } {
  const bySize = new Map<number, { n: number; k: number }>();
  for (const t of trials) {
    if (!(t.sizeUm > 0)) throw new RangeError(`size in µm: above 0 is needed, given ${t.sizeUm}`);
    const at = bySize.get(t.sizeUm) ?? { n: 0, k: 0 };
    at.n++;
    if (t.found) at.k++;
    bySize.set(t.sizeUm, at);
  }
  const centre = trials.reduce((s, t) => s + Math.log(t.sizeUm), 0) / trials.length;
  return { points: [...bySize].map(([size, v]) => ({ x: Math.log(size) - centre, ...v })), centre };
}

/** Log likelihood plus half the log determinant of the information (the penalty) at a ceiling, and what a Newton step needs. */
function penalised(points: readonly Point[], a: number, b: number, ceiling = 1) {
  let ll = 0;
  let [i00, i01, i11] = [0, 0, 0];
  for (const { x, n, k } of points) {
    const s = Math.min(1 - 1e-12, Math.max(1e-12, squeeze(a + b * x)));
    const p = ceiling * s;
    ll += k * Math.log(p) + (n - k) * Math.log(1 - p);
    const w = (n * p * (1 - s) ** 2) / (1 - p);
    i00 += w;
    i01 += w * x;
    i11 += w * x * x;
  }
  const det = i00 * i11 - i01 * i01;
  return { value: ll + 0.5 * Math.log(Math.max(det, 1e-300)), i00, i01, i11, det };
}

/**
 * Logistic curve of the chance against ln size, with the penalty that keeps it finite when all small pieces are missed
 * and all large ones found. Source: Firth 1993, Biometrika 80:27; Heinze & Schemper 2002, Stat. Med. 21:2409.
 * Holds for: a chance that rises smoothly with size to all. Deceives when: even large pieces are missed now and then (on
 * print, say), for then the curve is too flat: sizeFloor allows for that.
 */
export function fitCurve(trials: readonly Trial[]): Curve {
  const { points, centre } = gathered(trials);
  if (points.length < 2) throw new RangeError(`curve: at least two sizes are needed, given ${points.length}`);
  let a = 0;
  let b = 0;
  for (let round = 0; round < 200; round++) {
    const now = penalised(points, a, b);
    let u0 = 0;
    let u1 = 0;
    for (const { x, n, k } of points) {
      const p = squeeze(a + b * x);
      const w = p * (1 - p);
      // Leverage of one trial: w·xᵀ I⁻¹ x.
      const h = (w * (now.i11 - 2 * x * now.i01 + x * x * now.i00)) / now.det;
      const score = k - n * p + n * h * (0.5 - p);
      u0 += score;
      u1 += score * x;
    }
    let da = (now.i11 * u0 - now.i01 * u1) / now.det;
    let db = (now.i00 * u1 - now.i01 * u0) / now.det;
    const long = Math.max(Math.abs(da), Math.abs(db));
    if (long > 3) [da, db] = [(da * 3) / long, (db * 3) / long];
    let part = 1;
    while (part > 1e-4 && penalised(points, a + part * da, b + part * db).value < now.value - 1e-12)
      part /= 2;
    a += part * da;
    b += part * db;
    if (Math.max(Math.abs(da), Math.abs(db)) < 1e-10) break;
  }
  return { a, b, centre, likelihood: penalised(points, a, b).value };
}

export interface Floor {
  /** Size at which the chance of being found reaches `chance`, µm; null with a reason when the drawn sizes don't show it. */
  readonly sizeUm: number | null;
  readonly lowerUm: number | null;
  readonly upperUm: number | null;
  readonly chance: number;
  readonly because: string | null;
}

/** Shares of even the largest pieces that are found: pieces on print or at the edge are missed at any size. */
const CEILINGS = [1, 0.98, 0.95, 0.9, 0.8, 0.65, 0.5];

/** Best penalised likelihood over slope and ceiling when the curve passes `chance` (or half its ceiling) at ln size − centre = x0. */
function held(
  points: readonly Point[],
  x0: number,
  chance: number | 'half the ceiling',
  most: number,
): number {
  let best = Number.NEGATIVE_INFINITY;
  for (const ceiling of CEILINGS) {
    const part = chance === 'half the ceiling' ? 0.5 : chance / ceiling;
    if (part >= 1 || ceiling > most) continue;
    const logit = Math.log(part / (1 - part));
    const short = (lb: number) => -penalised(points, logit - Math.exp(lb) * x0, Math.exp(lb), ceiling).value;
    best = Math.max(best, -short(lowest(short, ...SLOPES, 16)));
  }
  return best;
}

/** ln of the slopes that are looked at: from a chance that hardly rises with size to a sudden one. */
const SLOPES = [Math.log(0.05), Math.log(40)] as const;

/** Where f is lowest between two ends: on a net, then by golden section about its best. */
function lowest(f: (x: number) => number, low: number, high: number, net: number): number {
  const step = (high - low) / net;
  let top = low;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= net; i++) {
    const value = f(low + step * i);
    if (value < least) [least, top] = [value, low + step * i];
  }
  return findLowest(f, Math.max(low, top - step), Math.min(high, top + step), 1e-3);
}

/**
 * Size at which pieces are found with `chance`, with a profile interval: all sizes that the data do not reject by the
 * likelihood ratio (χ² with one degree of freedom), whatever slope and ceiling the curve has. The ceiling is the share of
 * even the largest pieces that is found. Nothing is told beyond a factor 1.5 outside the drawn sizes.
 * Source of a curve with a ceiling below 1: Wichmann & Hill 2001, Percept. Psychophys. 63:1293 (there: lapses).
 */
export function sizeFloor(trials: readonly Trial[], chance: number, confidence: number): Floor {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`chance: between 0 and 1 is needed, given ${chance}`);
  const none = (because: string): Floor => ({ sizeUm: null, lowerUm: null, upperUm: null, chance, because });
  const sizes = trials.map((t) => t.sizeUm);
  if (new Set(sizes).size < 2)
    return none('Pieces of at least two sizes must be drawn to tell a size floor.');
  const smallest = Math.min(...sizes);
  const largest = Math.max(...sizes);
  const tooEasy = `Even the smallest drawn pieces (${Math.round(smallest)} µm) are found more often than that: draw smaller ones.`;
  const tooHard = `Even the largest drawn pieces (${Math.round(largest)} µm) are found less often than that: draw larger ones.`;
  if (trials.every((t) => t.found)) return none(tooEasy);
  if (!trials.some((t) => t.found)) return none(tooHard);
  if (!(fitCurve(trials).b > 0))
    return none('Larger pieces were not found more often than smaller ones, so there is no floor to tell.');
  const { points, centre } = gathered(trials);
  const far = Math.log(4);
  const ends = [Math.log(smallest) - far - centre, Math.log(largest) + far - centre] as const;
  const profile = (x0: number) => held(points, x0, chance, 1);
  const x = lowest((x0) => -profile(x0), ...ends, 40);
  // Curves that never get so far, because of their ceiling.
  const never = (x0: number) => -held(points, x0, 'half the ceiling', chance);
  const without = -never(lowest(never, ...ends, 20));
  const top = profile(x);
  if (without > top) return none(tooHard);
  const size = Math.exp(x + centre);
  if (size < smallest / 1.5) return none(tooEasy);
  if (size > largest * 1.5) return none(tooHard);
  const drop = normalQuantile(0.5 + confidence / 2) ** 2 / 2;
  const short = (x0: number) => profile(x0) - (top - drop);
  const edge = (end: number) =>
    short(end) > 0 ? null : Math.exp(findRoot(short, Math.min(x, end), Math.max(x, end), 1e-4) + centre);
  return {
    sizeUm: size,
    lowerUm: edge(ends[0]),
    // Where the data also allow that the chance is never reached, there is no upper limit.
    upperUm: without > top - drop ? null : edge(ends[1]),
    chance,
    because: null,
  };
}
