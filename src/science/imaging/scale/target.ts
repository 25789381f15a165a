/** The scale from a stage micrometre or a ruler: evenly spaced ticks in a row. */
import {
  done,
  type Micrometres,
  type MicrometresPerPixel,
  type Outcome,
  refused,
  umPerPx,
} from '../../../units/index.ts';
import type { Picture } from '../finding.ts';
import { halved, ridges, samplerOf, workingGrey } from './luminance.ts';
import { type Segment, type StripSums, segmentsNear, slopeStrength, stripSums } from './strips.ts';
import { readPiece, type Sampler } from './trace.ts';

export interface TargetScale {
  readonly umPerPx: MicrometresPerPixel;
  /** One standard uncertainty divided by the value, from the scatter of the ticks; the target's own tolerance comes on top. */
  readonly relativeUncertainty: number;
  readonly ticks: number;
  readonly periodPx: number;
  /** Of the row of ticks against the picture's x axis, −90 to 90. */
  readonly directionDeg: number;
  /** Root mean square distance of a tick from an even row, px. */
  readonly residualPx: number;
}

const FEWEST = 6;
const WORST = 0.01;
const NONE =
  'No row of evenly spaced ticks was found: photograph the target so that at least six of its finest ticks lie in the frame, sharp and upright or level, or click two of them.';

interface Row {
  readonly period: number;
  readonly ticks: readonly { readonly n: number; readonly x: number; readonly y: number }[];
  readonly score: number;
  readonly turn: number;
  readonly upright: boolean;
  readonly size: number;
}

/** Ticks of one strip along their common normal: the shortest even spacing that most of them obey. */
function evenRow(strip: readonly Segment[], turn: number, upright: boolean, size: number): Row | null {
  if (strip.length < FEWEST) return null;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const along = (s: Segment) => (upright ? s.x * cos + s.y * sin : -s.x * sin + s.y * cos);
  const ticks = strip.map((s) => ({ s, o: along(s) })).sort((a, b) => a.o - b.o);
  const gaps = ticks.slice(1).map((t, i) => t.o - ticks[i]!.o);
  let best: Row | null = null;
  for (const gap of new Set(gaps.map((g) => Math.round(g * 2) / 2))) {
    if (gap < 5) continue;
    for (const start of ticks.slice(0, Math.min(ticks.length, 12))) {
      const row = followed(ticks, start.o, gap);
      const span = row.length > 0 ? row.at(-1)!.n - row[0]!.n + 1 : 0;
      if (row.length < FEWEST || row.length < 0.7 * span) continue;
      const strays = ticks.filter((t) => t.o > row[0]!.o && t.o < row.at(-1)!.o).length - row.length + 2;
      const score = row.length - 0.7 * (span - row.length) - 0.7 * Math.max(0, strays);
      if (!best || score > best.score) {
        const period = (row.at(-1)!.o - row[0]!.o) / (span - 1);
        best = {
          period,
          score,
          turn,
          upright,
          size,
          ticks: row.map((t) => ({ n: t.n, x: t.s.x, y: t.s.y })),
        };
      }
    }
  }
  return best;
}

/** Steps from tick to tick, correcting the period by what has been walked so far. */
function followed(ticks: readonly { s: Segment; o: number }[], from: number, gap: number) {
  const out: { n: number; o: number; s: Segment }[] = [];
  let period = gap;
  let last = { n: 0, o: from };
  for (const t of ticks) {
    if (t.o < from - 0.01) continue;
    const steps = Math.max(out.length === 0 ? 0 : 1, Math.round((t.o - last.o) / period));
    if (steps > 4) break;
    if (Math.abs(t.o - last.o - steps * period) > Math.max(1.3, 0.12 * period)) continue;
    last = { n: last.n + steps, o: t.o };
    out.push({ ...last, s: t.s });
    if (last.n > 1) period = (last.o - from) / last.n;
  }
  return out;
}

/** Leaves out the pale flanks of dark ticks and the dark flanks of pale ones: something stronger lies beside them. */
function withoutFlanks(own: readonly Segment[], other: readonly Segment[]): Segment[] {
  return own.filter((s) =>
    other.every((o) => Math.hypot(o.x - s.x, o.y - s.y) > 14 || o.strength < 1.1 * s.strength),
  );
}

/** Pieces gathered in bands along the row (a turned row crosses several strips), one piece a tick. */
function bandsOf(found: readonly Segment[], turn: number, upright: boolean, size: number): Segment[][] {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const bands = new Map<number, Segment[]>();
  for (const s of found) {
    const v = upright ? -s.x * sin + s.y * cos : s.x * cos + s.y * sin;
    for (const b of [Math.floor(v / size), Math.floor(v / size + 0.5) + 0.5]) {
      const band = bands.get(b) ?? [];
      band.push(s);
      bands.set(b, band);
    }
  }
  const along = (s: Segment) => (upright ? s.x * cos + s.y * sin : -s.x * sin + s.y * cos);
  return [...bands.values()].map((band) => {
    const sorted = band.toSorted((a, b) => along(a) - along(b));
    return sorted.filter((s, i) => i === 0 || along(s) - along(sorted[i - 1]!) > 3);
  });
}

/** Candidates of one reduced picture: both directions, dark and pale ticks, band by band. */
function rowsOf(values: Float32Array, width: number, height: number): Row[] {
  const rows: Row[] = [];
  const size = 2 ** Math.max(4, Math.round(Math.log2(Math.min(width, height) / 14)));
  for (const turned of [false, true]) {
    const sets: StripSums[] = [false, true].map((m) => stripSums(values, width, height, size, turned, m, 1));
    const turns: number[] = [];
    for (const sign of [-1, 1]) {
      const strength = slopeStrength(sets, sign);
      const order = [...strength.keys()].sort((a, b) => strength[b]! - strength[a]!);
      for (const k of order.slice(0, 8)) {
        const turn = Math.atan((k - (size - 1)) / (size - 1));
        if (strength[k]! > 0 && turns.every((t) => Math.abs(t - turn) > 0.08)) turns.push(turn);
      }
    }
    for (const turn of turns.slice(0, 4)) {
      const dark = segmentsNear(sets, turn, 0.1, -1, 2);
      const pale = segmentsNear(sets, turn, 0.1, 1, 2);
      for (const found of [withoutFlanks(dark, pale), withoutFlanks(pale, dark)]) {
        if (found.length < FEWEST) continue;
        // The common angle of the pieces themselves is finer than the steps of slope.
        const mean =
          found.reduce((s, f) => s + f.turn * f.strength, 0) / found.reduce((s, f) => s + f.strength, 0);
        for (const band of bandsOf(found, mean, !turned, size)) {
          const row = evenRow(band, mean, !turned, size);
          if (row) rows.push(row);
        }
      }
    }
  }
  return rows;
}

/** Where a tick runs at full size: its middle and its slope, from its upper and lower part. */
function sharpen(full: Sampler, x: number, y: number, row: Row, step: number) {
  const span = 0.8 * row.size * step;
  const slope = row.upright ? -Math.tan(row.turn) : Math.tan(row.turn);
  const parts = [-0.28, 0.28].map((share) => {
    const along = (row.upright ? y : x) + share * span;
    const across = (row.upright ? x : y) + slope * share * span;
    const off = middleAt(full, across, along, slope, 0.44 * span, row, step);
    return off === null ? null : { along, across: across + off };
  });
  const [a, b] = parts;
  if (!a || !b) return null;
  return {
    across: (a.across + b.across) / 2,
    along: (a.along + b.along) / 2,
    slope: (b.across - a.across) / (b.along - a.along),
  };
}

/** Shift of a tick's middle: the centroid of what departs from the ground beside it. */
function middleAt(
  full: Sampler,
  across: number,
  along: number,
  slope: number,
  span: number,
  row: Row,
  step: number,
): number | null {
  const periodPx = row.period * step;
  const spacing = Math.max(0.5, periodPx / 60);
  const n = 2 * Math.floor((0.42 * periodPx) / spacing) + 1;
  const wish = { reach: 0, spacing, length: 0, reads: 16, margin: 0 };
  const piece = readPiece(full, across, along, slope, span, n, wish, row.upright);
  if (!piece) return null;
  const read = piece.across;
  const ground = [...read].sort((a, b) => a - b)[n >> 1]!;
  let top = 0;
  for (let k = 0; k < n; k++) if (Math.abs(read[k]! - ground) > Math.abs(read[top]! - ground)) top = k;
  const depth = read[top]! - ground;
  if (Math.abs(depth) < 0.01) return null;
  let sum = 0;
  let moment = 0;
  let from = top;
  while (from > 0 && (read[from - 1]! - ground) / depth > 0.2) from--;
  for (let k = from; k < n && (k <= top || (read[k]! - ground) / depth > 0.2); k++) {
    const w = (read[k]! - ground) / depth;
    sum += w;
    moment += w * k;
  }
  return (moment / sum - (n - 1) / 2) * spacing * piece.perPx;
}

/** Straight line through (n, o), stragglers left out: slope, its spread, scatter. */
function evenSpacing(points: readonly { n: number; o: number }[]) {
  let kept = [...points];
  let slope = 0;
  let spread = 0;
  let scatter = 0;
  for (let round = 0; round < 3; round++) {
    const mn = kept.reduce((s, p) => s + p.n, 0) / kept.length;
    const mo = kept.reduce((s, p) => s + p.o, 0) / kept.length;
    const snn = kept.reduce((s, p) => s + (p.n - mn) ** 2, 0);
    slope = kept.reduce((s, p) => s + (p.n - mn) * (p.o - mo), 0) / snn;
    const away = (p: { n: number; o: number }) => p.o - mo - slope * (p.n - mn);
    scatter = Math.sqrt(kept.reduce((s, p) => s + away(p) ** 2, 0) / Math.max(1, kept.length - 2));
    spread = Math.max(scatter, 0.05) / Math.sqrt(snn);
    const limit = Math.max(0.5, 3 * scatter);
    const next = kept.filter((p) => Math.abs(away(p)) <= limit);
    if (next.length === kept.length || next.length < FEWEST) break;
    kept = next;
  }
  return { slope, spread, scatter, ticks: kept.length };
}

/**
 * Finds a row of at least six evenly spaced ticks (dark or pale, long ones among short) and divides the known `spacing`
 * of neighbouring finest ticks by their distance. The scale holds along the row, near the middle of it; a bending lens
 * changes it elsewhere, which a target cannot tell. Refuses with `no-scale` when no even row is in view.
 */
export function findTarget(picture: Picture, spacing: Micrometres): Outcome<TargetScale> {
  if (!(spacing > 0))
    throw new RangeError(`spacing of ticks: a number of µm above 0 is needed, given ${spacing}`);
  let grey = workingGrey(picture, 1000);
  let best: { row: Row; step: number } | null = null;
  for (let level = 0; level < 2 && Math.min(grey.width, grey.height) >= 64; level++) {
    const values = ridges(grey, 0.3);
    for (const row of values ? rowsOf(values, grey.width, grey.height) : []) {
      if (!best || row.score > best.row.score + 0.5) best = { row, step: grey.step };
    }
    grey = halved(grey);
  }
  if (!best) return refused({ why: 'no-scale', message: NONE });
  const { row, step } = best;
  const full = samplerOf(picture);
  const ticks = row.ticks.flatMap((t) => {
    const sharp = sharpen(full, t.x * step, t.y * step, row, step);
    return sharp ? [{ n: t.n, ...sharp }] : [];
  });
  const slopes = ticks.map((t) => t.slope).sort((a, b) => a - b);
  const lean = Math.atan(slopes[slopes.length >> 1] ?? 0);
  const points = ticks.map((t) => ({ n: t.n, o: t.across * Math.cos(lean) - t.along * Math.sin(lean) }));
  if (points.length < FEWEST) return refused({ why: 'no-scale', message: NONE });
  const fit = evenSpacing(points);
  const relative = Math.hypot(fit.spread / fit.slope, 2e-4);
  if (!(fit.slope > 0) || fit.ticks < FEWEST || relative > WORST || fit.scatter > 0.1 * fit.slope) {
    return refused({ why: 'no-scale', message: NONE });
  }
  // Upright ticks that lean right on the way down belong to a row that rises to the right.
  const turnDeg = ((row.upright ? -lean : lean) * 180) / Math.PI;
  return done({
    umPerPx: umPerPx(spacing / fit.slope),
    relativeUncertainty: relative,
    ticks: fit.ticks,
    periodPx: fit.slope,
    directionDeg: row.upright ? turnDeg : turnDeg > 0 ? turnDeg - 90 : turnDeg + 90,
    residualPx: fit.scatter,
  });
}
