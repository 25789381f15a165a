import {
  betaQuantile,
  betaUpperQuantile,
  findRoot,
  gammaLower,
  gammaQuantile,
  gammaUpper,
  gammaUpperQuantile,
  gaussHermite,
  gaussLegendre,
  integrate,
  lnBetaDensity,
  lnGamma,
  lnGammaDensity,
} from '../maths/index.ts';
import type { Interval } from './interval.ts';

/**
 * A share known from counts (found of shown), or a factor about 1 that is known to a relative standard uncertainty
 * (log-normal; its value is already in the efforts).
 */
export type DividingShare =
  | { readonly found: number; readonly shown: number }
  | { readonly relative: number };

/** What a net rate is made of. Efforts: any unit, the same on both sides. */
export interface NetParts {
  readonly gross: number;
  readonly grossEffort: number;
  readonly background: number;
  readonly backgroundEffort: number;
  /** What the net is divided by (recovery, share kept by the scorer, an uncertain fraction); exact 1 when absent. */
  readonly shares: readonly DividingShare[];
}

const NODES = 48;
const SHARE_NODES = 20;
const TABLE = 80;
const EDGE = 1e-13;
const TOLERANCE = 1e-10;

/** A gamma variable in rate units; shape 0 is the fixed value 0. */
export interface Rate {
  readonly shape: number;
  readonly effort: number;
}

const spread = ({ shape, effort }: Rate): number => Math.sqrt(shape) / effort;
const lowerShare = ({ shape, effort }: Rate, x: number): number =>
  x < 0 ? 0 : shape === 0 ? 1 : gammaLower(shape, x * effort);
const upperShare = ({ shape, effort }: Rate, x: number): number =>
  x < 0 ? 1 : shape === 0 ? 0 : gammaUpper(shape, x * effort);

/** The stretch that holds all but 10⁻¹³ of a rate on each side. */
const reach = ({ shape, effort }: Rate): [number, number] =>
  shape === 0 ? [0, 0] : [gammaQuantile(shape, EDGE) / effort, gammaUpperQuantile(shape, EDGE) / effort];

/**
 * E g(X) over a gamma rate, on the stretch from `from` upwards that holds all but 10⁻¹³ of it. By one rule over √x where
 * both shapes are whole (all is then smooth); else by panels that are halved until they agree, over x^shape where the
 * density has no upper bound near 0.
 */
function mean(rate: Rate, from: number, g: (x: number) => number, smooth: boolean): number {
  const [least, high] = reach(rate);
  const { shape, effort } = rate;
  if (shape < 1) {
    const low = Math.max(0, from);
    if (low >= high) return 0;
    const of = (x: number): number => (x * effort) ** shape;
    const scale = Math.exp(-lnGamma(shape + 1));
    const at = (y: number): number => {
      const t = y ** (1 / shape);
      return Math.exp(-t) * g(t / effort);
    };
    return scale * integrate(at, of(low), of(high), TOLERANCE, 1);
  }
  const low = Math.max(from, least);
  if (low >= high) return 0;
  const a = Math.sqrt(low);
  const b = Math.sqrt(high);
  const at = (root: number): number => {
    const x = root * root;
    return Math.exp(lnGammaDensity(shape, x * effort)) * effort * 2 * root * g(x);
  };
  if (!smooth) return integrate(at, a, b, TOLERANCE, 1);
  const { points, weights } = gaussLegendre(NODES);
  let sum = 0;
  for (let i = 0; i < NODES; i++) sum += weights[i]! * at((a + b) / 2 + ((b - a) / 2) * points[i]!);
  return (sum * (b - a)) / 2;
}

/** P(first − second ≤ d), integrating over the narrower of the two. */
export function differenceShare(first: Rate, second: Rate, d: number): number {
  if (second.shape === 0) return lowerShare(first, d);
  if (first.shape === 0) return upperShare(second, -d);
  const smooth = Number.isInteger(first.shape) && Number.isInteger(second.shape);
  if (spread(second) <= spread(first)) {
    return mean(second, Math.max(0, -d), (b) => lowerShare(first, d + b), smooth);
  }
  const certain = d > 0 ? lowerShare(first, d) : 0;
  return certain + mean(first, Math.max(0, d), (a) => upperShare(second, a - d), smooth);
}

/** Points and weights of a beta variable; one point when it is fixed at 1. */
function shareNodes(a: number, b: number): { at: number; weight: number }[] {
  if (b === 0) return [{ at: 1, weight: 1 }];
  const low = betaQuantile(a, b, 1e-10);
  const high = betaUpperQuantile(a, b, 1e-10);
  const { points, weights } = gaussLegendre(SHARE_NODES);
  const nodes = [...points].map((p, i) => {
    const at = (low + high) / 2 + ((high - low) / 2) * p;
    return { at, weight: (weights[i]! * Math.exp(lnBetaDensity(a, b, at)) * (high - low)) / 2 };
  });
  const sum = nodes.reduce((s, n) => s + n.weight, 0);
  return nodes.map((n) => ({ at: n.at, weight: n.weight / sum }));
}

const FACTOR_NODES = 15;

/** Points and weights of a log-normal factor about 1. */
function factorNodes(relative: number): Nodes {
  const { points, weights } = gaussHermite(FACTOR_NODES);
  const sigma = Math.sqrt(Math.log1p(relative * relative));
  return [...points].map((z, i) => ({ at: Math.exp(sigma * z), weight: weights[i]! }));
}

const nodesOf = (share: DividingShare, up: number): Nodes =>
  'relative' in share
    ? factorNodes(share.relative)
    : shareNodes(share.found + up, share.shown - share.found + 1 - up);

type Nodes = { at: number; weight: number }[];

/** The product of several shares: all pairs of nodes. */
const product = (all: readonly Nodes[]): Nodes =>
  all.reduce<Nodes>(
    (so, next) => so.flatMap((a) => next.map((b) => ({ at: a.at * b.at, weight: a.weight * b.weight }))),
    [{ at: 1, weight: 1 }],
  );

/** A function that was costly to make, read off between Chebyshev points; flat outside its stretch. */
function readOff(f: (x: number) => number, low: number, high: number): (x: number) => number {
  if (!(high > low)) return f;
  const at = Float64Array.from({ length: TABLE + 1 }, (_, i) => Math.cos((Math.PI * i) / TABLE));
  const values = at.map((c) => f((low + high) / 2 + ((high - low) / 2) * c));
  return (x) => {
    const c = (2 * x - low - high) / (high - low);
    if (c >= 1) return values[0]!;
    if (c <= -1) return values[TABLE]!;
    let above = 0;
    let below = 0;
    for (let i = 0; i <= TABLE; i++) {
      const gap = c - at[i]!;
      if (gap === 0) return values[i]!;
      const w = (i % 2 === 0 ? 1 : -1) * (i === 0 || i === TABLE ? 0.5 : 1);
      above += (w * values[i]!) / gap;
      below += w / gap;
    }
    return above / below;
  };
}

/** d where Σ weight·P(first − second ≤ d·share) = p. */
function solve(first: Rate, second: Rate, near0: Nodes, far0: Nodes, p: number): number {
  const at0 = differenceShare(first, second, 0) - p;
  if (at0 === 0) return 0;
  const positive = at0 < 0;
  const [firstLow, firstHigh] = reach(first);
  const [secondLow, secondHigh] = reach(second);
  const low = positive ? Math.max(0, firstLow - secondHigh) : firstLow - secondHigh;
  const high = positive ? firstHigh - secondLow : Math.min(0, firstHigh - secondLow);
  // dividing by a smaller share moves a net away from 0: which way is the cautious one turns at 0
  const nodes = positive ? near0 : far0;
  const share =
    nodes.length === 1 && nodes[0]!.at === 1
      ? (d: number) => differenceShare(first, second, d)
      : readOff((d) => differenceShare(first, second, d), low, high);
  const gap = (d: number): number => nodes.reduce((sum, n) => sum + n.weight * share(d * n.at), 0) - p;
  const smallest = nodes.reduce((least, n) => Math.min(least, n.at), 1);
  return positive ? findRoot(gap, 0, high / smallest, 1e-9) : findRoot(gap, low / smallest, 0, 1e-9);
}

/** One-sided limit of the net rate at this confidence, upwards or downwards. */
export function netLimit(parts: NetParts, confidence: number, end: 'lower' | 'upper'): number {
  for (const [name, effort] of [
    ['gross effort', parts.grossEffort],
    ['background effort', parts.backgroundEffort],
  ] as const) {
    if (!(effort > 0 && effort < Infinity))
      throw new RangeError(`${name}: a number above 0 is needed, given ${effort}`);
  }
  for (const share of parts.shares) {
    if ('relative' in share) {
      if (!(share.relative >= 0 && share.relative < 1)) {
        throw new RangeError(`relative uncertainty: from 0 to below 1 is needed, given ${share.relative}`);
      }
      continue;
    }
    const { found, shown } = share;
    if (!(found > 0 && found <= shown)) {
      throw new RangeError(
        `share: found of shown with 0 < found ≤ shown is needed, given ${found} of ${shown}`,
      );
    }
  }
  const up = end === 'upper' ? 1 : 0;
  const first = { shape: parts.gross + up, effort: parts.grossEffort };
  const second = { shape: parts.background + 1 - up, effort: parts.backgroundEffort };
  const large = product(parts.shares.map((share) => nodesOf(share, 1)));
  const small = product(parts.shares.map((share) => nodesOf(share, 0)));
  return end === 'lower'
    ? solve(first, second, large, small, 1 - confidence)
    : solve(first, second, small, large, confidence);
}

/**
 * Net rate (gross/effort − background/effort) / (product of shares) with its interval: each count and share enters as
 * the distribution whose ends are its own exact (Garwood, Clopper–Pearson) limits, and the net is read off their
 * combination, by quadrature. With no background and no shares it is Garwood's interval; its lower end passes 0
 * exactly where the exact conditional test reaches (1 − confidence)/2.
 * Source: Fay, Proschan & Brittain 2015, Biometrics 71:146–156 (melded intervals).
 * Holds for: whole counts from 0; coverage at least nominal when runs scatter no more than Poisson.
 * Deceives when: runs or controls scatter more than Poisson (take the joint model).
 */
export function netInterval(parts: NetParts, confidence: number): Interval {
  const oneSided = 1 - (1 - confidence) / 2;
  const divisor = parts.shares.reduce((p, s) => ('relative' in s ? p : (p * s.found) / s.shown), 1);
  const difference = parts.gross / parts.grossEffort - parts.background / parts.backgroundEffort;
  return {
    value: difference / divisor,
    lower: netLimit(parts, oneSided, 'lower'),
    upper: netLimit(parts, oneSided, 'upper'),
    confidence,
  };
}
