/**
 * Where one tile of a photograph differs from its membrane by more than the membrane's own variation: in lightness
 * (dark or bright) and in colour, at five smoothing levels, and along thin lines. Gives the runs of pixels to look at.
 */

import { connectedParts, inFours, joinedRuns, rootOf } from './connected.ts';
import { inRoom, roomOf, takeBytes, takeFloats } from './kernels/room.ts';
import { opponentPlanes, type PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import { halve, type Plane, smooth } from './pyramid.ts';
import { ridges } from './ridge.ts';
import { insideFilter } from './scale/edge.ts';
import { LEVELS } from './survey.ts';
import type { Thresholds } from './thresholds.ts';
import { fieldRow, type TileField } from './tile-field.ts';

/** Tiles lie on a grid anchored at the photograph's corner, so that strips and wholes see the same tiles. */
export const TILE = 960;
/** Pixels looked at around a tile; a multiple of the coarsest block. */
export const MARGIN = 32;

/** Row, first pixel, pixel after the last: three numbers a run, photograph coordinates, ordered by row then pixel. */
export type Runs = Int32Array;

/** Noise at the border, where windows repeat pixels, against noise inside. */
const RIM_NOISE = 1.35;

const WEAK = 1;
const STRONG = 2;

/** Keeps what hangs together with a strong pixel (8 neighbours); everything else becomes 0. */
export function keepSeeded(mask: Uint8Array, width: number, height: number): void {
  const { first, end, parent } = joinedRuns(mask, width, height);
  const sure = new Uint8Array(first.length);
  for (let run = 0; run < first.length; run++) {
    for (let i = first[run]!; i < end[run]!; i++) {
      if (mask[i] !== STRONG) continue;
      sure[rootOf(parent, run)] = 1;
      break;
    }
  }
  for (let run = 0; run < first.length; run++) mask.fill(sure[rootOf(parent, run)]!, first[run]!, end[run]!);
}

/** Marks pixels of one level against thresholds: lightness either way, colour as a distance. */
function markLevel(
  l: Plane,
  a: Plane | null,
  b: Plane | null,
  noise: Membrane['noise'][number],
  x0: number,
  y0: number,
  block: number,
  seed: number,
  grow: number,
  photo: { readonly width: number; readonly height: number },
): { mask: Uint8Array; any: boolean } {
  const { width: w, height: h } = l;
  const mask = takeBytes(w * h).fill(0);
  const sl = takeFloats(w);
  const sa = takeFloats(w);
  const sb = takeFloats(w);
  const room = roomOf(mask, sl, sa, sb, l.data, a?.data ?? mask, b?.data ?? mask);
  const half = (block - 1) / 2;
  // Two noisy channels together exceed a given distance more often than one: the same tail probability lies further out.
  const apart = Math.sqrt(seed * seed + 2 * Math.log(seed * 2.5066));
  const grown = grow + 0.5;
  let any = false;
  for (let y = 0; y < h; y++) {
    const py = y0 + y * block + half;
    // At the photograph's border the window sees repeated pixels, which average less: it asks for more.
    if (py < -half || py > photo.height - 1 + half) continue;
    const rim = py < 2 * block || py > photo.height - 1 - 2 * block;
    fieldRow(noise.lightness, py, x0 + half, block, w, sl);
    const o = y * w;
    const first = Math.max(0, Math.ceil((-x0 - half) / block));
    const last = Math.min(w - 1, Math.floor((photo.width - 1 - x0) / block));
    const leftRim = rim ? w : Math.min(w, Math.ceil((2 * block - x0) / block));
    const rightRim = Math.max(leftRim, Math.floor((photo.width - 1 - 3 * block - x0) / block) + 1);
    for (let x = 0; x < leftRim; x++) sl[x]! *= RIM_NOISE;
    for (let x = Math.max(0, rightRim); x < w; x++) sl[x]! *= RIM_NOISE;
    const n = last + 1 - first;
    if (n <= 0) continue;
    if (room) {
      const [at, marks] = [4 * (o + first), mask.byteOffset + o + first];
      const sigma = sl.byteOffset + 4 * first;
      if (room.kernels.markLightness(l.data.byteOffset + at, sigma, n, grow, seed, marks)) any = true;
    } else {
      for (let x = first; x <= last; x++) {
        const z = Math.abs(l.data[o + x]!) / sl[x]!;
        if (z < grow) continue;
        mask[o + x] = z >= seed ? STRONG : WEAK;
        if (z >= seed) any = true;
      }
    }
    if (!a || !b || rim) continue;
    fieldRow(noise.redGreen!, py, x0 + half, block, w, sa);
    fieldRow(noise.blueYellow!, py, x0 + half, block, w, sb);
    const g2 = grown * grown;
    const s2 = apart * apart;
    if (room) {
      const [pa, pb] = [a.data.byteOffset + 4 * (o + first), b.data.byteOffset + 4 * (o + first)];
      const [na, nb] = [sa.byteOffset + 4 * first, sb.byteOffset + 4 * first];
      if (room.kernels.markColour(pa, pb, na, nb, n, g2, s2, mask.byteOffset + o + first)) any = true;
      continue;
    }
    for (let x = first; x <= last; x++) {
      const u = a.data[o + x]! / sa[x]!;
      const v = b.data[o + x]! / sb[x]!;
      const z2 = u * u + v * v;
      if (z2 < g2) continue;
      if (z2 >= s2) {
        mask[o + x] = STRONG;
        any = true;
      } else if (mask[o + x] === 0) mask[o + x] = WEAK;
    }
  }
  return { mask, any };
}

function paint(mask: Uint8Array, w: number, h: number, block: number, into: Uint8Array, width: number): void {
  const fours = inFours(mask);
  for (let y = 0; y < h; y++) {
    const o = y * w;
    for (let x = 0; x < w; x++) {
      const i = o + x;
      if ((i & 3) === 0 && x + 4 <= w && fours?.[i >> 2] === 0) {
        x += 3;
        continue;
      }
      if (!mask[i]) continue;
      const start = x;
      while (x < w && mask[o + x]) x++;
      for (let v = 0; v < block; v++) {
        const at = (y * block + v) * width;
        into.fill(1, at + start * block, at + x * block);
      }
    }
  }
}

/**
 * A coarse level sees again, blurred, what finer ones have marked: such parts add nothing but width. Only what is far
 * larger than its finer marks (a film with a speck on it) is marked anew.
 */
function leaveOutSeen(
  level: Uint8Array,
  w: number,
  h: number,
  block: number,
  mask: Uint8Array,
  width: number,
): void {
  const parts = connectedParts(level, w, h);
  const seen = new Int32Array(parts.count + 1);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const k = parts.label[y * w + x]!;
      if (k === 0) continue;
      for (let v = 0; v < block; v += 2) {
        const at = (y * block + v) * width + x * block;
        for (let u = 0; u < block; u += 2) seen[k]! += mask[at + u]!;
      }
    }
  }
  for (let i = 0; i < level.length; i++) {
    const k = parts.label[i]!;
    if (k > 0 && seen[k]! * 4 > 0.04 * parts.sizes[k]! * block * block) level[i] = 0;
  }
}

const fieldOf = (field: TileField | null): field is TileField => field !== null;

/** Planes of one level, halved k times. */
interface LevelPlanes {
  readonly k: number;
  readonly l: Plane;
  readonly a: Plane | null;
  readonly b: Plane | null;
}

/** Marks in `mask`, `width` pixels of the photograph a row, what stands out at one level. */
function markAtLevel(
  { k, l, a, b }: LevelPlanes,
  membrane: Membrane,
  left: number,
  top: number,
  thresholds: Thresholds,
  mask: Uint8Array,
  width: number,
): void {
  const block = 1 << k;
  const seed = thresholds.seed[k]!;
  const noise = membrane.noise[k]!;
  const sl = smooth(l);
  // Colour is stored at half resolution by most cameras: nothing is told by it at full resolution.
  const sa = a && k > 0 ? smooth(a) : null;
  const sb = b && k > 0 ? smooth(b) : null;
  const level = markLevel(sl, sa, sb, noise, left, top, block, seed, thresholds.grow, membrane);
  if (level.any) {
    keepSeeded(level.mask, l.width, l.height);
    if (k >= 2) leaveOutSeen(level.mask, l.width, l.height, block, mask, width);
    paint(level.mask, l.width, l.height, block, mask, width);
  }
  if (k !== 1 && k !== 2) return;
  const found = ridges(sl, thresholds.ridgeSeed, thresholds.ridgeGrow);
  if (!found) return;
  keepSeeded(found, l.width, l.height);
  paint(found, l.width, l.height, block, mask, width);
}

/** Candidate runs of the tile whose corner is (x0, y0); rows around it by MARGIN must be at hand. */
export const searchTile = (
  rows: PhotoRows,
  membrane: Membrane,
  x0: number,
  y0: number,
  thresholds: Thresholds,
): Runs => inRoom(tileRuns, rows, membrane, x0, y0, thresholds);

function tileRuns(rows: PhotoRows, membrane: Membrane, x0: number, y0: number, thresholds: Thresholds): Runs {
  const { noise, print, edge } = membrane;
  const coreW = Math.min(TILE, membrane.width - x0);
  const coreH = Math.min(TILE, membrane.height - y0);
  const round = (n: number) => Math.ceil(n / 16) * 16;
  const width = round(coreW) + 2 * MARGIN;
  const height = round(coreH) + 2 * MARGIN;
  const left = x0 - MARGIN;
  const top = y0 - MARGIN;
  const planes = opponentPlanes(
    rows,
    membrane.background,
    print,
    left,
    top,
    width,
    height,
    noise[1]!.onPrint,
  );
  const mask = takeBytes(width * height).fill(0);
  let l: Plane = { width, height, data: planes.lightness };
  const colour = membrane.channels === 3 && fieldOf(noise[0]!.redGreen);
  let a: Plane | null = colour ? { width, height, data: planes.redGreen } : null;
  let b: Plane | null = colour ? { width, height, data: planes.blueYellow } : null;
  for (let k = 0; k < LEVELS; k++) {
    if (k > 0) {
      l = halve(l);
      a = a && halve(a);
      b = b && halve(b);
    }
    const level: LevelPlanes = { k, l, a, b };
    inRoom(markAtLevel, level, membrane, left, top, thresholds, mask, width);
  }
  const runs: number[] = [];
  // Rows and margins are whole fours.
  const fours = inFours(mask);
  for (let y = 0; y < coreH; y++) {
    const row = (y + MARGIN) * width + MARGIN;
    for (let x = 0; x < coreW; x++) {
      if ((x & 3) === 0 && fours?.[(row + x) >> 2] === 0) {
        x += 3;
        continue;
      }
      if (!mask[row + x]) continue;
      const start = x;
      while (x < coreW && mask[row + x]) x++;
      if (edge && !edge.everywhere && !insideFilter(edge, x0 + (start + x) / 2, y0 + y + 0.5)) continue;
      runs.push(y0 + y, x0 + start, x0 + x);
    }
  }
  return Int32Array.from(runs);
}
