/** From found and not found to the chance of being found by size, with intervals. */
import { findRoot, normalQuantile } from '../../maths/index.ts';

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

/** Log likelihood plus half the log determinant of the information (the penalty), and what a Newton step needs. */
function penalised(points: readonly Point[], a: number, b: number) {
  let ll = 0;
  let [i00, i01, i11] = [0, 0, 0];
  for (const { x, n, k } of points) {
    const p = Math.min(1 - 1e-12, Math.max(1e-12, squeeze(a + b * x)));
    ll += k * Math.log(p) + (n - k) * Math.log(1 - p);
    const w = n * p * (1 - p);
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
 * Holds for: a chance that rises smoothly with size. Deceives when: even large pieces are missed now and then (on
 * print, say), for then the curve is too flat; look at the shares as well.
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

/** Best penalised likelihood when the curve must pass through `chance` at ln size − centre = x0. */
function held(points: readonly Point[], x0: number, logit: number, around: number): number {
  let best = Number.NEGATIVE_INFINITY;
  // Over the slope alone, on a logarithmic net and then by golden section about its best.
  let [low, high] = [Math.log(0.02), Math.log(Math.max(60, 3 * around))];
  const at = (lb: number) => penalised(points, logit - Math.exp(lb) * x0, Math.exp(lb)).value;
  let top = low;
  for (let i = 0; i <= 60; i++) {
    const lb = low + ((high - low) * i) / 60;
    const v = at(lb);
    if (v > best) {
      best = v;
      top = lb;
    }
  }
  const step = (high - low) / 60;
  [low, high] = [top - step, top + step];
  for (let i = 0; i < 40; i++) {
    const m1 = low + 0.381966 * (high - low);
    const m2 = high - 0.381966 * (high - low);
    if (at(m1) > at(m2)) high = m2;
    else low = m1;
  }
  return Math.max(best, at((low + high) / 2));
}

/**
 * Size at which pieces are found with `chance`, with a profile interval: all sizes that the data do not reject by the
 * likelihood ratio (χ² with one degree of freedom). Nothing is told beyond a factor 1.5 outside the drawn sizes.
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
  const curve = fitCurve(trials);
  if (!(curve.b > 0))
    return none('Larger pieces were not found more often than smaller ones, so there is no floor to tell.');
  const logit = Math.log(chance / (1 - chance));
  const x = (logit - curve.a) / curve.b;
  const size = Math.exp(x + curve.centre);
  if (size < smallest / 1.5) return none(tooEasy);
  if (size > largest * 1.5) return none(tooHard);
  const { points } = gathered(trials);
  const drop = normalQuantile(0.5 + confidence / 2) ** 2 / 2;
  const top = held(points, x, logit, curve.b);
  const short = (x0: number) => held(points, x0, logit, curve.b) - (top - drop);
  const edge = (end: number) =>
    short(end) > 0
      ? null
      : Math.exp(findRoot(short, Math.min(x, end), Math.max(x, end), 1e-6) + curve.centre);
  const far = Math.log(4);
  return {
    sizeUm: size,
    lowerUm: edge(Math.log(smallest) - far - curve.centre),
    upperUm: edge(Math.log(largest) + far - curve.centre),
    chance,
    because: null,
  };
}
