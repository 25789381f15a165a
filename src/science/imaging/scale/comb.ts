/** The period that explains most pieces of line in two directions at once. */
import type { Segment } from './strips.ts';

/** A first idea of the lattice, in units of half the picture's diagonal about its middle. */
export interface Hypothesis {
  readonly turn: number;
  readonly k1: number;
  readonly period: number;
  /** Where the first line of each direction lies, within one period. */
  readonly columnPhase: number;
  readonly rowPhase: number;
  readonly score: number;
}

/** Pieces of one direction, centred and divided by half the diagonal. */
export interface Pieces {
  readonly segments: readonly Segment[];
  /** How many strips a whole line crosses. */
  readonly strips: number;
}

const BIN = 0.002;
const HALF = 700;
/** A tooth must have this share of a full line's pieces to pay; every tooth costs it. */
const TOOTH_COST = 0.3;
const BENDS = [0, -0.05, 0.05, -0.1, 0.1];

/** Weighted median angle of all pieces after the lens is taken out. */
function commonTurn(all: readonly { turn: number; w: number }[]): number {
  const sorted = [...all].sort((a, b) => a.turn - b.turn);
  const half = sorted.reduce((s, a) => s + a.w, 0) / 2;
  let sum = 0;
  for (const a of sorted) {
    sum += a.w;
    if (sum >= half) return a.turn;
  }
  return 0;
}

/** Angle of a piece of line after the lens is taken out: the slope of u = q(1 + k r²) along the piece. */
function straightened(s: Segment, k: number, upright: boolean): { u: number; v: number; turn: number } {
  const r2 = s.x * s.x + s.y * s.y;
  const lens = 1 + k * r2;
  // Direction of the line: upright (−sin, cos), level (cos, sin).
  const dx = upright ? -Math.sin(s.turn) : Math.cos(s.turn);
  const dy = upright ? Math.cos(s.turn) : Math.sin(s.turn);
  const along = 2 * k * (s.x * dx + s.y * dy);
  const du = lens * dx + along * s.x;
  const dv = lens * dy + along * s.y;
  return { u: s.x * lens, v: s.y * lens, turn: upright ? Math.atan2(-du, dv) : Math.atan2(dv, du) };
}

interface Profile {
  /** Share of a line's length that is seen at each offset, from 0 to 1. */
  readonly share: Float32Array;
  readonly from: number;
  readonly to: number;
}

function profileOf(offsets: readonly { o: number; w: number }[], strips: number): Profile {
  const raw = new Float32Array(2 * HALF + 1);
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const { o, w } of offsets) {
    const i = Math.round(o / BIN) + HALF;
    if (i < 5 || i > 2 * HALF - 5) continue;
    for (let k = -2; k <= 2; k++) raw[i + k]! += w * (1 - Math.abs(k) * 0.2);
    from = Math.min(from, i);
    to = Math.max(to, i);
  }
  for (let i = 0; i < raw.length; i++) raw[i] = Math.min(1, raw[i]! / (0.7 * strips));
  return { share: raw, from, to };
}

/** Offsets worth starting a comb from: the strongest tops of the profile, as bins. */
function topsOf(profile: Profile): number[] {
  const { share } = profile;
  const tops: number[] = [];
  for (let i = 2; i < share.length - 2; i++) {
    const s = share[i]!;
    if (s > TOOTH_COST && s >= share[i - 1]! && s > share[i + 1]!) tops.push(i);
  }
  return tops.sort((a, b) => share[b]! - share[a]!).slice(0, 12);
}

/** Best phase of a comb: every tooth between the outermost pieces pays its share and costs `TOOTH_COST`. */
function bestPhase(profile: Profile, tops: readonly number[], period: number) {
  const { share, from, to } = profile;
  let best = { score: Number.NEGATIVE_INFINITY, phase: 0, teeth: 0 };
  const wide = period / BIN;
  for (const top of tops) {
    let sum = 0;
    let teeth = 0;
    const first = top - Math.floor((top - from + 3) / wide) * wide;
    for (let t = first; t <= to + 3; t += wide) {
      const s = share[Math.round(t)]!;
      sum += s - TOOTH_COST;
      if (s > TOOTH_COST) teeth++;
    }
    if (sum > best.score) best = { score: sum, phase: (top - HALF) * BIN, teeth };
  }
  return best;
}

/** The best few hypotheses for one angle, best first. `shortest` is the smallest period allowed, in the same units. */
export function hypotheses(upright: Pieces, level: Pieces, shortest: number, keep: number): Hypothesis[] {
  const found: Hypothesis[] = [];
  const weight = (s: Segment) => Math.min(1, s.strength / 8);
  for (const k1 of BENDS) {
    const columns = upright.segments.map((s) => ({ ...straightened(s, k1, true), w: weight(s) }));
    const rows = level.segments.map((s) => ({ ...straightened(s, k1, false), w: weight(s) }));
    const turn = commonTurn([...columns, ...rows]);
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const a = profileOf(
      columns.map((s) => ({ o: s.u * cos + s.v * sin, w: s.w })),
      upright.strips,
    );
    const b = profileOf(
      rows.map((s) => ({ o: -s.u * sin + s.v * cos, w: s.w })),
      level.strips,
    );
    const aTops = topsOf(a);
    const bTops = topsOf(b);
    if (aTops.length === 0 || bTops.length === 0) continue;
    for (let period = shortest; period < 1.7; period *= 1.005) {
      const c = bestPhase(a, aTops, period);
      const r = bestPhase(b, bTops, period);
      if (c.teeth + r.teeth < 3) continue;
      found.push({ turn, k1, period, columnPhase: c.phase, rowPhase: r.phase, score: c.score + r.score });
    }
  }
  found.sort((a, b) => b.score - a.score);
  const kept: Hypothesis[] = [];
  for (const h of found) {
    if (kept.length >= keep) break;
    if (kept.every((o) => Math.abs(Math.log(o.period / h.period)) > 0.03)) kept.push(h);
  }
  return kept;
}
