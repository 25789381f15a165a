/**
 * From a candidate region to pieces: how much of each pixel belongs to a piece (0 membrane, 1 piece), the line of one
 * half around it, necks cut, holes closed.
 */

import { type Lab, labAgainst } from './colour-name.ts';
import { connectedParts, fillHoles, grow } from './connected.ts';
import { distanceInside } from './distance.ts';
import type { Point } from './finding.ts';
import { type OpponentPlanes, opponentPlanes, type PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import { longestWay, smoothWay, thin, wayLength } from './middle-line.ts';
import { calm, levelLines, lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { type Plane, smooth } from './pyramid.ts';
import type { Region } from './regions.ts';
import type { Thresholds } from './thresholds.ts';
import { fieldAt } from './tile-field.ts';
import { splitTouching } from './touching-pieces.ts';

const RIM = 16;

interface Window {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  readonly planes: OpponentPlanes;
}

/** Three channels in units that make noise equal and independent enough to add. */
interface Measured {
  readonly l: Float32Array;
  readonly a: Float32Array | null;
  readonly b: Float32Array | null;
  readonly sigma: readonly [number, number, number];
}

/** Smoothing rounds by which a faint piece is brought out of the noise; more only where fewer do not suffice. */
const ROUNDS = [1, 4, 16] as const;

function smoothed(window: Window, membrane: Membrane, step: number): Measured {
  const { width, height, planes } = window;
  const mx = window.x0 + width / 2;
  const my = window.y0 + height / 2;
  const times = ROUNDS[step]!;
  const run = (data: Float32Array, rounds: number): Float32Array => {
    let p: Plane = { width, height, data };
    for (let k = 0; k < rounds; k++) p = smooth(p);
    return p.data;
  };
  // n binomial rounds have variance n/2; level k's window has about 0.6·4^k: the levels' noise is read between.
  const noise = (pick: (n: Membrane['noise'][number]) => number) => {
    const at = Math.max(0, Math.log(times / 2 / 0.6) / Math.log(4));
    const k = Math.min(membrane.noise.length - 2, Math.floor(at));
    const t = Math.min(1, at - k);
    return pick(membrane.noise[k]!) * (1 - t) + pick(membrane.noise[k + 1]!) * t;
  };
  const colour = membrane.channels === 3;
  return {
    l: run(planes.lightness, times),
    a: colour ? run(planes.redGreen, Math.max(2, times)) : null,
    b: colour ? run(planes.blueYellow, Math.max(2, times)) : null,
    sigma: [
      noise((n) => fieldAt(n.lightness, mx, my)),
      colour ? noise((n) => fieldAt(n.redGreen!, mx, my)) : 1,
      colour ? noise((n) => fieldAt(n.blueYellow!, mx, my)) : 1,
    ],
  };
}

function strength(m: Measured): Float32Array {
  const out = new Float32Array(m.l.length);
  const [sl, sa, sb] = m.sigma;
  for (let i = 0; i < out.length; i++) {
    const l = m.l[i]! / sl;
    let z = l * l;
    if (m.a && m.b) {
      const a = m.a[i]! / sa;
      const b = m.b[i]! / sb;
      z += a * a + b * b;
    }
    out[i] = Math.sqrt(z);
  }
  return out;
}

function regionMask(region: Region, w: Window): Uint8Array {
  const mask = new Uint8Array(w.width * w.height);
  for (let i = 0; i < region.runs.length; i += 3) {
    const y = region.runs[i]! - w.y0;
    mask.fill(1, y * w.width + region.runs[i + 1]! - w.x0, y * w.width + region.runs[i + 2]! - w.x0);
  }
  return mask;
}

/** Pieces of one candidate region. */
export function segmentRegion(
  region: Region,
  rows: PhotoRows,
  membrane: Membrane,
  thresholds: Thresholds,
): Piece[] {
  const growAt = thresholds.grow;
  const x0 = Math.max(0, region.x0 - RIM);
  const y0 = Math.max(0, region.y0 - RIM);
  const width = Math.min(membrane.width, region.x1 + RIM) - x0;
  const height = Math.min(membrane.height, region.y1 + RIM) - y0;
  if (width < 3 || height < 3) return [];
  const planes = opponentPlanes(
    rows,
    membrane.background,
    membrane.print,
    x0,
    y0,
    width,
    height,
    membrane.noise[1]!.onPrint,
  );
  const w: Window = { x0, y0, width, height, planes };
  const free = grow(regionMask(region, w), width, height, 2);
  const pieces: Piece[] = [];
  for (let step = 0; step < ROUNDS.length; step++) {
    const measured = smoothed(w, membrane, step);
    const z = strength(measured);
    const mask = new Uint8Array(z.length);
    for (let i = 0; i < z.length; i++) mask[i] = free[i] && z[i]! >= growAt ? 1 : 0;
    const parts = connectedParts(mask, width, height);
    const boxes = partBoxes(parts, width);
    let left = false;
    for (let k = 1; k <= parts.count; k++) {
      const box = boxes[k]!;
      if (parts.sizes[k]! < 4) continue;
      const clear = parts.sizes[k]! >= 9 || step === 0 ? top(z, parts.label, k, box, width) : 0;
      // Faint parts are looked at again with more smoothing; the last look asks for what the search asked for.
      if (clear < (step + 1 < ROUNDS.length ? 2.2 * growAt : thresholds.seed[2]! + 0.4)) {
        left = true;
        continue;
      }
      const part = cropPart(w, measured, z, parts.label, k, box);
      const found = piecesOf(part, rows, membrane);
      pieces.push(...found);
      for (let y = box.y0; y < box.y1; y++) {
        for (let x = box.x0; x < box.x1; x++) if (parts.label[y * width + x] === k) free[y * width + x] = 0;
      }
    }
    if (!left && step === 0 && pieces.length > 0) break;
  }
  return pieces;
}

interface Box {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

function partBoxes(parts: { label: Int32Array; count: number }, width: number): Box[] {
  const boxes: Box[] = Array.from({ length: parts.count + 1 }, () => ({ x0: 1e9, y0: 1e9, x1: 0, y1: 0 }));
  for (let i = 0; i < parts.label.length; i++) {
    const k = parts.label[i]!;
    if (k === 0) continue;
    const x = i % width;
    const y = (i - x) / width;
    const b = boxes[k]!;
    b.x0 = Math.min(b.x0, x);
    b.x1 = Math.max(b.x1, x + 1);
    b.y0 = Math.min(b.y0, y);
    b.y1 = Math.max(b.y1, y + 1);
  }
  return boxes;
}

/** 90th percentile of the strength over one part. */
function top(z: Float32Array, label: Int32Array, k: number, box: Box, width: number): number {
  const some: number[] = [];
  for (let y = box.y0; y < box.y1; y++) {
    for (let x = box.x0; x < box.x1; x++) if (label[y * width + x] === k) some.push(z[y * width + x]!);
  }
  some.sort((p, q) => p - q);
  return some[Math.floor(some.length * 0.9)] ?? 0;
}

/** One part with a little room around it. */
interface Part {
  readonly w: Window;
  readonly m: Measured;
  readonly z: Float32Array;
  /** 1 this part, 2 another, 0 none. */
  readonly whose: Uint8Array;
}

function cropPart(w: Window, m: Measured, z: Float32Array, label: Int32Array, k: number, box: Box): Part {
  const room = 6;
  const x0 = Math.max(0, box.x0 - room);
  const y0 = Math.max(0, box.y0 - room);
  const width = Math.min(w.width, box.x1 + room) - x0;
  const height = Math.min(w.height, box.y1 + room) - y0;
  const cut = <T extends Float32Array | Uint8Array>(from: T, to: T): T => {
    for (let y = 0; y < height; y++) {
      const at = (y0 + y) * w.width + x0;
      to.set(from.subarray(at, at + width), y * width);
    }
    return to;
  };
  const n = width * height;
  const floats = (from: Float32Array) => cut(from, new Float32Array(n));
  const whose = new Uint8Array(n);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const l = label[(y0 + y) * w.width + x0 + x]!;
      whose[y * width + x] = l === k ? 1 : l > 0 ? 2 : 0;
    }
  }
  const { planes } = w;
  return {
    w: {
      x0: w.x0 + x0,
      y0: w.y0 + y0,
      width,
      height,
      planes: {
        ...planes,
        width,
        height,
        zone: planes.zone.length ? cut(planes.zone, new Uint8Array(n)) : planes.zone,
      },
    },
    m: { l: floats(m.l), a: m.a && floats(m.a), b: m.b && floats(m.b), sigma: m.sigma },
    z: floats(z),
    whose,
  };
}

function piecesOf({ w, m, z, whose }: Part, rows: PhotoRows, membrane: Membrane): Piece[] {
  const { width, height } = w;
  let peak = 0;
  for (let i = 0; i < z.length; i++) if (whose[i] === 1) peak = Math.max(peak, z[i]!);
  // The piece's own direction in the space of lightness and colour, from its stronger pixels.
  const [sl, sa, sb] = m.sigma;
  let ul = 0;
  let ua = 0;
  let ub = 0;
  let n = 0;
  for (let i = 0; i < z.length; i++) {
    if (whose[i] !== 1 || z[i]! < 0.5 * peak) continue;
    ul += m.l[i]!;
    ua += m.a ? m.a[i]! : 0;
    ub += m.b ? m.b[i]! : 0;
    n++;
  }
  ul /= n;
  ua /= n;
  ub /= n;
  const norm = (ul / sl) ** 2 + (ua / sa) ** 2 + (ub / sb) ** 2;
  if (!(norm > 0)) return [];
  const part = new Float32Array(z.length);
  for (let i = 0; i < z.length; i++) {
    let t = (m.l[i]! * ul) / (sl * sl);
    if (m.a && m.b) t += (m.a[i]! * ua) / (sa * sa) + (m.b[i]! * ub) / (sb * sb);
    part[i] = t / norm;
  }
  const inside: number[] = [];
  for (let i = 0; i < z.length; i++) if (whose[i] === 1 && part[i]! > 0.4) inside.push(part[i]!);
  if (inside.length < 3) return [];
  inside.sort((p, q) => p - q);
  const plateau = inside[Math.floor(inside.length * 0.7)]!;
  const level = 0.5 * plateau;
  const near = new Uint8Array(z.length);
  for (let i = 0; i < z.length; i++) near[i] = whose[i] === 1 ? 1 : 0;
  const wide = grow(near, width, height, 3);
  const body = new Uint8Array(z.length);
  for (let i = 0; i < z.length; i++) body[i] = wide[i] && part[i]! >= level && whose[i] !== 2 ? 1 : 0;
  fillHoles(body, width, height, Math.max(40, inside.length));
  const split = splitTouching(body, width, height);
  const pieces: Piece[] = [];
  for (let s = 1; s <= split.count; s++) {
    const piece = pieceFrom(w, m, part, plateau, split.label, s, rows, membrane, norm, ul, ua, ub);
    if (piece) pieces.push(piece);
  }
  return pieces;
}

function pieceFrom(
  w: Window,
  m: Measured,
  part: Float32Array,
  plateau: number,
  label: Int32Array,
  s: number,
  rows: PhotoRows,
  membrane: Membrane,
  norm: number,
  ul: number,
  ua: number,
  ub: number,
): Piece | null {
  const { width, height } = w;
  const level = 0.5 * plateau;
  const field = new Float32Array(part.length).fill(level - 0.5 * plateau);
  const own = new Uint8Array(part.length);
  let size = 0;
  for (let i = 0; i < part.length; i++) {
    if (label[i] === s) {
      own[i] = 1;
      size++;
      field[i] = Math.max(part[i]!, level * 1.02);
    } else if (label[i]! > 0) {
      field[i] = level - (Math.max(part[i]!, level) - level) - 0.02 * level;
    } else field[i] = Math.min(part[i]!, level * 0.98);
  }
  if (size < 4) return null;
  const reach = grow(own, width, height, 1);
  for (let i = 0; i < part.length; i++) if (!reach[i]) field[i] = 0;
  const lines = levelLines({ width, height, data: field }, level, w.x0, w.y0);
  let outline: Point[] | null = null;
  let area = 0;
  for (const line of lines) {
    const a = lineArea(line);
    if (a > area) {
      area = a;
      outline = line;
    }
  }
  if (!outline) return null;
  const shape = calm(outline);
  // Thin pieces are followed along their middle.
  const distance = distanceInside(own, width, height);
  let thick = 0;
  for (let i = 0; i < distance.length; i++) thick = Math.max(thick, distance[i]!);
  let line: Point[] | null = null;
  let lineWidth: number | null = null;
  if (area > 9 * thick * thick) {
    const way = longestWay(thin(own, width, height), width, height);
    if (way.length > 3) {
      const points = way.map((i) => [w.x0 + (i % width) + 0.5, w.y0 + Math.floor(i / width) + 0.5] as const);
      const smoothLine = smoothWay(points, 3);
      const length = wayLength(smoothLine) + distance[way[0]!]! + distance[way[way.length - 1]!]! - 1;
      if (length > 3 * (area / length)) {
        line = smoothLine;
        lineWidth = area / length;
      }
    }
  }
  let touchesFrame = false;
  for (const [x, y] of shape) {
    if (x <= 0.75 || y <= 0.75 || x >= membrane.width - 0.75 || y >= membrane.height - 0.75)
      touchesFrame = true;
  }
  const look = colourInside(w, own, distance, rows, membrane);
  let onPrint = 0;
  for (const [x, y] of shape) {
    const i =
      Math.min(height - 1, Math.max(0, Math.floor(y - w.y0))) * width +
      Math.min(width - 1, Math.max(0, Math.floor(x - w.x0)));
    if (w.planes.zone[i]) onPrint++;
  }
  const [sl, sa, sb] = m.sigma;
  return {
    outline: shape,
    line,
    lineWidth,
    lab: look.lab,
    manyHued: false,
    seeThrough: Math.abs(ul) < 0.06 && Math.hypot(ua, ub) < 0.04,
    contrast: Math.hypot(ul, ua * 0.5, ub * 0.5),
    mottle: 0,
    highlight: false,
    touchesFrame,
    evidence: {
      lightness: Math.abs(ul) / sl,
      colour: Math.hypot(ua / sa, ub / sb),
      ridge: line ? Math.sqrt(norm) : 0,
      sharpness: 0,
      onPrint: onPrint / shape.length,
    },
  };
}

function colourInside(
  w: Window,
  own: Uint8Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): { lab: Lab } {
  const { picture } = rows;
  let deep = 0;
  for (const d of distance) deep = Math.max(deep, d);
  const core = Math.min(deep * 0.6, 3);
  const sums = [0, 0, 0];
  const white = [0, 0, 0];
  let n = 0;
  for (let i = 0; i < own.length; i++) {
    if (!own[i] || distance[i]! < core) continue;
    const x = w.x0 + (i % w.width);
    const y = w.y0 + Math.floor(i / w.width);
    for (let c = 0; c < 3; c++) {
      const k = Math.min(c, membrane.channels - 1);
      sums[c]! += picture.data[((y - rows.top) * picture.width + x) * picture.channels + k]! / picture.full;
      white[c]! += fieldAt(membrane.background[k]!, x, y);
    }
    n++;
  }
  const mean = (s: number[]) => [s[0]! / n, s[1]! / n, s[2]! / n] as const;
  return { lab: labAgainst(mean(sums), mean(white)) };
}
