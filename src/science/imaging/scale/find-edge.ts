/** Finds the round rim of the filter where the photograph shows it. */
import type { Picture } from '../finding.ts';
import { cellsOf } from './cells.ts';
import { bestCircle, type Circle, fitCircle, type Step, stepsOf } from './circle.ts';
import { type FilterEdge, insideFilter } from './edge.ts';
import { type Lattice, mapGain, mapToGrid, mapToPhoto } from './lattice.ts';

/** Cells along the long side of the picture. */
const ACROSS = 180;
/** A rim is a jump of at least this share of white (project choice). */
const LEAST_JUMP = 0.05;
/** A rim shows along this share of its arc in view (project choice). */
const LEAST_SHARE = 0.55;

/** Arc that must be in view against the picture's short side: little where all of it shows, as in four corners (project choice). */
const leastArc = (share: number): number => (share > 0.8 ? 0.2 : 0.3);

/** A fixed sequence of numbers from 0 to 1: the same picture gives the same rim. */
function sequence(): () => number {
  let a = 1;
  return () => {
    a = (Math.imul(a, 48271) + 11) & 0x7fffffff;
    return a / 0x80000000;
  };
}

interface RimPoint {
  readonly angle: number;
  readonly x: number;
  readonly y: number;
  /** Sharp change at the rim, and the change between well inside and well outside. */
  readonly jump: number;
  readonly across: number;
  w: number;
}

/** Mean colour of a short stretch along the radius, px a to b from the centre. */
function stretch(
  picture: Picture,
  c: Circle,
  angle: number,
  a: number,
  b: number,
): [number, number, number] | null {
  const sum: [number, number, number] = [0, 0, 0];
  const n = Math.max(3, Math.min(12, Math.round(b - a)));
  for (let k = 0; k < n; k++) {
    const r = a + ((k + 0.5) * (b - a)) / n;
    const x = Math.floor(c.x + r * Math.cos(angle));
    const y = Math.floor(c.y + r * Math.sin(angle));
    if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) return null;
    const at = (y * picture.width + x) * picture.channels;
    for (let ch = 0; ch < 3; ch++) sum[ch]! += picture.data[at + Math.min(ch, picture.channels - 1)]!;
  }
  const unit = 1 / (n * picture.full);
  return [sum[0] * unit, sum[1] * unit, sum[2] * unit];
}

/** Where along each radius the colour jumps most in the direction of the mean jump. */
function rimPoints(picture: Picture, c: Circle, slack: number, far: number, parts: number): RimPoint[] {
  const jump = [0, 0, 0];
  const angles: { angle: number; change: readonly number[] }[] = [];
  for (let i = 0; i < parts; i++) {
    const angle = (2 * Math.PI * (i + 0.5)) / parts;
    const inner = stretch(picture, c, angle, c.r - far - slack, c.r - far);
    const outer = stretch(picture, c, angle, c.r + far, c.r + far + slack);
    if (!inner || !outer) continue;
    const change = inner.map((v, k) => v - outer[k]!);
    angles.push({ angle, change });
    for (let k = 0; k < 3; k++) jump[k]! += change[k]!;
  }
  const size = Math.hypot(...jump);
  if (angles.length < 8 || size === 0) return [];
  const unit = jump.map((v) => v / size);
  const points: RimPoint[] = [];
  const fine = Math.max(1, slack / 24);
  const span = Math.max(2, slack / 4);
  for (const { angle, change } of angles) {
    const values: number[] = [];
    for (let r = c.r - 2 * slack; r <= c.r + 2 * slack; r += fine) {
      const colour = stretch(picture, c, angle, r - fine / 2, r + fine / 2);
      values.push(colour ? colour[0] * unit[0]! + colour[1] * unit[1]! + colour[2] * unit[2]! : 0);
    }
    const m = Math.max(1, Math.round(span / fine));
    const sums = [0];
    for (const v of values) sums.push(sums.at(-1)! + v);
    let best = 0;
    let at = -1;
    for (let k = m; k + m <= values.length; k++) {
      const d = 2 * sums[k]! - sums[k - m]! - sums[k + m]!;
      if (d > best) {
        best = d;
        at = k;
      }
    }
    if (at < 0) continue;
    const r = c.r - 2 * slack + (at - 0.5) * fine;
    const across = change.reduce((sum, v, k) => sum + v * unit[k]!, 0);
    const [x, y] = [c.x + r * Math.cos(angle), c.y + r * Math.sin(angle)];
    points.push({ angle, x, y, jump: best / m, across, w: 1 });
  }
  return points;
}

function medianOf(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[values.length >> 1] ?? 0;
}

/** Circle through rim points, those far off left out by Tukey's weights. */
function settle(start: Circle, points: RimPoint[], least: number): { circle: Circle; spread: number } {
  let circle = start;
  let spread = least;
  for (let round = 0; round < 6; round++) {
    circle = fitCircle(circle, points);
    const away = points.map((p) => Math.hypot(p.x - circle.x, p.y - circle.y) - circle.r);
    spread = Math.max(least, medianOf(away.map(Math.abs)) / 0.6745);
    points.forEach((p, i) => {
      const t = away[i]! / (4.685 * spread);
      p.w = Math.abs(t) < 1 ? (1 - t * t) ** 2 : 0;
    });
  }
  return { circle, spread };
}

/** Radius by direction against the circle, smoothed over neighbouring rim points; 1 where no rim is in view. */
function unevenness(circle: Circle, points: readonly RimPoint[]): number[] {
  const parts = 180;
  const out: number[] = [];
  for (let i = 0; i < parts; i++) {
    const angle = (2 * Math.PI * i) / parts;
    const near: number[] = [];
    for (const p of points) {
      if (p.w <= 0) continue;
      const d = Math.abs(Math.atan2(Math.sin(p.angle - angle), Math.cos(p.angle - angle)));
      if (d < 0.12) near.push(Math.hypot(p.x - circle.x, p.y - circle.y) / circle.r);
    }
    out.push(near.length >= 3 ? medianOf(near) : 1);
  }
  return out;
}

/** Within this share of the jump from the ground further in, the rim no longer shows (project choice). */
const SETTLED = 0.06;

/** How far in from the rim its blur and shade reach, px: the median course over all rim points, outwards from `deep`. */
function rimBand(picture: Picture, circle: Circle, points: readonly RimPoint[], deep: number): number {
  const fine = Math.max(1, deep / 48);
  for (let inward = deep; inward > fine; inward -= fine) {
    const shares: number[] = [];
    for (const p of points) {
      const r = Math.hypot(p.x - circle.x, p.y - circle.y);
      const at = stretch(picture, circle, p.angle, r - inward - fine / 2, r - inward + fine / 2);
      const ground = stretch(picture, circle, p.angle, r - 1.5 * deep, r - deep);
      const beyond = stretch(picture, circle, p.angle, r + deep / 2, r + deep);
      if (!at || !ground || !beyond) continue;
      let along = 0;
      let size = 0;
      for (let c = 0; c < 3; c++) {
        along += (at[c]! - ground[c]!) * (beyond[c]! - ground[c]!);
        size += (beyond[c]! - ground[c]!) ** 2;
      }
      if (size > 0) shares.push(along / size);
    }
    if (shares.length >= 8 && Math.abs(medianOf(shares)) > SETTLED) return inward + fine;
  }
  return 2 * fine;
}

/** How strongly the print shows outside the circle, as a share of its depth elsewhere; null where it cannot be told. */
function printBeyond(picture: Picture, lattice: Lattice, circle: Circle): number | null {
  const { print } = lattice;
  const grey = (x: number, y: number) => {
    const i = Math.floor(x);
    const j = Math.floor(y);
    if (i < 0 || j < 0 || i >= picture.width || j >= picture.height) return null;
    const at = (j * picture.width + i) * picture.channels;
    if (picture.channels === 1) return picture.data[at]! / picture.full;
    return (2 * picture.data[at]! + 5 * picture.data[at + 1]! + picture.data[at + 2]!) / (8 * picture.full);
  };
  const found: number[] = [];
  const gap = 1.5 * print.widthPx + 2;
  for (const line of lattice.lines) {
    const upright = line.runs === 'column';
    for (const { square } of lattice.squares) {
      if (square[upright ? 0 : 1] !== line.index) continue;
      for (let t = 0.15; t < 1; t += 0.1) {
        const [x, y] = upright
          ? mapToPhoto(lattice.map, line.index, square[1] + t)
          : mapToPhoto(lattice.map, square[0] + t, line.index);
        if (Math.hypot(x - circle.x, y - circle.y) < circle.r * 1.03 + 3 * print.widthPx) continue;
        const on = grey(x, y);
        const a = upright ? grey(x - gap, y) : grey(x, y - gap);
        const b = upright ? grey(x + gap, y) : grey(x, y + gap);
        if (on !== null && a !== null && b !== null) found.push((on - (a + b) / 2) / print.contrast);
      }
    }
  }
  return found.length >= 12 ? medianOf(found) : null;
}

/** Steps that a printed line makes are left out: thick print is no rim. */
function awayFromPrint(steps: readonly Step[], step: number, lattice: Lattice): Step[] {
  const pitchPx = 1 / mapGain(lattice.map, ...lattice.map.centre);
  const near = Math.min(0.25, (0.5 * lattice.print.widthPx + 2 * step) / pitchPx);
  return steps.filter((s) => {
    const [c, r] = mapToGrid(lattice.map, s.x * step, s.y * step);
    return Math.abs(c - Math.round(c)) > near && Math.abs(r - Math.round(r)) > near;
  });
}

/** Radii worth trying, px: discs of up to 90 mm where the scale is known, and no nearly straight lines. */
function likelyRadii(picture: Picture, lattice: Lattice | null): [number, number] {
  const long = Math.max(picture.width, picture.height);
  const widest = lattice ? 50_000 / lattice.umPerPx : Number.POSITIVE_INFINITY;
  return [0.22 * long, Math.min(3 * long, widest)];
}

function everywhere(picture: Picture): FilterEdge {
  const mask = {
    step: Math.max(picture.width, picture.height),
    columns: 1,
    rows: 1,
    inside: Uint8Array.of(1),
  };
  return { everywhere: true, circle: null, unevenness: [1], marginShare: 0, mask, insideFraction: 1 };
}

/** Circles tried before giving up: print, rings and stains may make the strongest ones. */
const TRIES = 5;

/**
 * The filter's rim: steps of colour on a hundred-cell copy, the circle that most of them lie on, then the jump along
 * each radius of the full picture and a robust circle through it. Where a lattice is known and its print goes on beyond
 * the circle, the circle is a stain or a ring, not the rim. Without a rim the whole picture is filter.
 */
export function findFilterEdge(picture: Picture, lattice: Lattice | null): FilterEdge {
  const cells = cellsOf(picture, ACROSS);
  if (Math.min(cells.columns, cells.rows) < 20) return everywhere(picture);
  const all = stepsOf(cells, LEAST_JUMP);
  let steps = lattice ? awayFromPrint(all, cells.step, lattice) : all;
  const { step } = cells;
  const [least, most] = likelyRadii(picture, lattice);
  const chance = sequence();
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const guess = bestCircle(steps, cells, least / step, most / step, chance);
    if (
      !guess ||
      guess.share < LEAST_SHARE ||
      guess.arc < leastArc(guess.share) * Math.min(cells.columns, cells.rows)
    )
      break;
    const start = { x: guess.x * step, y: guess.y * step, r: guess.r * step };
    const edge = rimAt(picture, lattice, start, step);
    const radius = edge?.circle?.radiusPx ?? 0;
    if (edge && radius >= least && radius <= most) return withMask(edge, picture, step);
    steps = steps.filter((s) => Math.abs(Math.hypot(s.x - guess.x, s.y - guess.y) - guess.r) > 1.5);
  }
  return everywhere(picture);
}

/** The rim near a guessed circle, or null when the full picture does not bear it out. */
function rimAt(picture: Picture, lattice: Lattice | null, start: Circle, step: number): FilterEdge | null {
  const far = Math.max(1.5 * step, lattice ? 2.2 * lattice.print.widthPx : 0);
  const points = rimPoints(picture, start, 1.5 * step, far, 360);
  if (points.length < 12) return null;
  const { circle, spread } = settle(start, points, 0.5);
  const kept = points.filter((p) => p.w > 0);
  if (kept.length < 0.6 * points.length || spread > step) return null;
  const across = medianOf(kept.map((p) => p.across));
  if (across < LEAST_JUMP || medianOf(kept.map((p) => p.jump)) < LEAST_JUMP) return null;
  if (kept.filter((p) => p.across > 0.4 * across).length < 0.75 * kept.length) return null;
  const beyond = lattice ? printBeyond(picture, lattice, circle) : null;
  if (beyond !== null && beyond > 0.35) return null;
  return {
    everywhere: false,
    circle: { centre: [circle.x, circle.y], radiusPx: circle.r },
    unevenness: unevenness(circle, points),
    marginShare: rimBand(picture, circle, kept, far + 1.5 * step) / circle.r,
    mask: { step, columns: 0, rows: 0, inside: new Uint8Array(0) },
    insideFraction: 0,
  };
}

function withMask(edge: FilterEdge, picture: Picture, step: number): FilterEdge {
  const columns = Math.ceil(picture.width / step);
  const rows = Math.ceil(picture.height / step);
  const inside = new Uint8Array(columns * rows);
  let sum = 0;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const is = insideFilter(edge, (i + 0.5) * step, (j + 0.5) * step) ? 1 : 0;
      inside[j * columns + i] = is;
      sum += is;
    }
  }
  return { ...edge, mask: { step, columns, rows, inside }, insideFraction: sum / inside.length };
}
