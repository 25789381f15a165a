/** From a candidate region to pieces: bodies at half height, slits closed, parts cut out. */
import { type Box, connectedParts, grow } from './connected.ts';
import { type Body, bodyAt, closeSlits } from './half-height.ts';
import { inRoom, takeBytes, takeFloats } from './kernels/room.ts';
import type { PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import type { Part } from './part.ts';
import { piecesOf } from './part-pieces.ts';
import type { Piece } from './piece.ts';
import {
  bytesWithin,
  contrastOf,
  floatsWithin,
  narrowed,
  type RegionWindow,
  RIM,
  ROUNDS,
  type Smoothed,
  smoothWindow,
  type WindowPart,
  windowOf,
} from './region-window.ts';
import type { Region } from './regions.ts';
import { kthSmallest } from './robust.ts';
import type { Thresholds } from './thresholds.ts';

/** Candidate pixels that are worth a look with much smoothing. */
const LEFT_OVER = 120;
/** Windows above this many px hold print or dish; faint pieces are not looked for in them. */
const LARGE_WINDOW = 4e6;

/** A window at one step of smoothing, with what may still be piece in it. */
interface Look {
  readonly w: RegionWindow;
  readonly step: number;
  readonly before: Smoothed | null;
  readonly free: Uint8Array;
  /** Near pieces taken at the first step: left out after the second. */
  readonly explained: Uint8Array | null;
}

/** Pieces of one candidate region: looked at sharply first; what stays open again in smaller windows, smoothed further. */
export const segmentRegion = (
  region: Region,
  rows: PhotoRows,
  membrane: Membrane,
  thresholds: Thresholds,
): Piece[] => inRoom(piecesOfRegion, region, rows, membrane, thresholds);

function piecesOfRegion(
  region: Region,
  rows: PhotoRows,
  membrane: Membrane,
  thresholds: Thresholds,
): Piece[] {
  const w = windowOf(region, rows, membrane);
  if (w.width < 3 || w.height < 3) return [];
  const pieces: Piece[] = [];
  const looks: Look[] = [
    { w, step: 0, before: null, free: grow(w.own, w.width, w.height, 2), explained: null },
  ];
  for (const look of looks) {
    const smoothed = smoothWindow(look.w, membrane, look.step, look.before);
    const seen = takeSure(look, smoothed, rows, membrane, thresholds);
    pieces.push(...seen.pieces);
    if (!seen.open || look.step + 1 === ROUNDS.length) continue;
    if (look.w.width * look.w.height > LARGE_WINDOW) continue;
    looks.push(...openPlaces(look, smoothed, seen.near));
  }
  return pieces;
}

/**
 * The pieces that are sure at this step. `free` loses what lies on and around them; `open` tells whether anything is
 * left that a further step may show; `near` is the wider surroundings of what was taken.
 */
function takeSure(
  look: Look,
  smoothed: Smoothed,
  rows: PhotoRows,
  membrane: Membrane,
  thresholds: Thresholds,
): { pieces: Piece[]; open: boolean; near: Uint8Array | null } {
  const { w, step, free } = look;
  const { width, height } = w;
  const sure =
    step + 1 === ROUNDS.length
      ? thresholds.seed[3]! + 0.4
      : Math.max(2.2 * thresholds.grow, thresholds.seed[step]! + 1);
  let weak = 0;
  let bold = false;
  for (let i = 0; i < free.length; i++) {
    if (!free[i] || smoothed.z[i]! < thresholds.grow) continue;
    weak++;
    if (smoothed.z[i]! >= sure) bold = true;
  }
  // Without one bold pixel no part can be sure: its shape need not be worked out.
  if (!bold) return { pieces: [], open: step === 0 || weak >= 4, near: null };
  const contrast = contrastOf(w, smoothed, membrane, thresholds.grow);
  const body = bodyAt(w, smoothed, contrast, thresholds.grow);
  const mask = closeSlits(body.mask, width, height, 1);
  for (let i = 0; i < mask.length; i++) if (!free[i]) mask[i] = 0;
  const parts = connectedParts(mask, width, height);
  const pieces: Piece[] = [];
  let left = false;
  let taken: Uint8Array | null = null;
  for (let k = 1; k <= parts.count; k++) {
    if (parts.sizes[k]! < 4) continue;
    const box = parts.boxes[k]!;
    if (top(smoothed.z, parts.label, k, box, width) < sure) {
      left = true;
      continue;
    }
    taken ??= takeBytes(mask.length).fill(0);
    for (let y = box.y0; y < box.y1; y++) {
      for (let x = box.x0; x < box.x1; x++) if (parts.label[y * width + x] === k) taken[y * width + x] = 1;
    }
    const from: Seen = { w, smoothed, contrast, body };
    for (const piece of inRoom(piecesOfPart, from, parts.label, k, box, rows, membrane)) pieces.push(piece);
  }
  if (!taken) return { pieces, open: left || step === 0, near: null };
  // What hangs around a piece that was taken is its own blur; coarse blocks around it were marked for its sake.
  const reach = grow(taken, width, height, step === 0 ? 6 : 24);
  for (let i = 0; i < free.length; i++) if (reach[i]) free[i] = 0;
  return { pieces, open: left, near: left && step === 0 ? grow(taken, width, height, 24) : null };
}

const piecesOfPart = (
  from: Seen,
  label: Int32Array,
  k: number,
  box: Box,
  rows: PhotoRows,
  membrane: Membrane,
): Piece[] => piecesOf(cropPart(from, label, k, box), rows, membrane);

/** Windows around what is still free, each part by itself, for the next step. */
function openPlaces(look: Look, smoothed: Smoothed, near: Uint8Array | null): Look[] {
  const { w, step, free, explained } = look;
  if (explained) for (let i = 0; i < free.length; i++) if (explained[i]) free[i] = 0;
  const parts = connectedParts(free, w.width, w.height);
  const looks: Look[] = [];
  for (let k = 1; k <= parts.count; k++) {
    if (parts.sizes[k]! < (step === 0 ? 4 : LEFT_OVER)) continue;
    const box = parts.boxes[k]!;
    const at = {
      x0: Math.max(0, box.x0 - RIM),
      y0: Math.max(0, box.y0 - RIM),
      x1: Math.min(w.width, box.x1 + RIM),
      y1: Math.min(w.height, box.y1 + RIM),
    };
    const [narrow, before] = narrowed(w, smoothed, at);
    const mine = takeBytes(narrow.width * narrow.height).fill(0);
    const nearby = near && takeBytes(mine.length).fill(0);
    for (let y = at.y0, i = 0; y < at.y1; y++) {
      for (let x = at.x0; x < at.x1; x++, i++) {
        if (parts.label[y * w.width + x] === k) mine[i] = 1;
        if (nearby && near[y * w.width + x]) nearby[i] = 1;
      }
    }
    looks.push({ w: narrow, step: step + 1, before, free: mine, explained: nearby });
  }
  return looks;
}

/** 80th percentile of the strength over one part. */
function top(z: Float32Array, label: Int32Array, k: number, box: Box, width: number): number {
  const some = takeFloats((box.x1 - box.x0) * (box.y1 - box.y0));
  let n = 0;
  for (let y = box.y0; y < box.y1; y++) {
    for (let x = box.x0; x < box.x1; x++) if (label[y * width + x] === k) some[n++] = z[y * width + x]!;
  }
  return n > 0 ? kthSmallest(some, n, Math.floor(n * 0.8)) : 0;
}

/** A window at one step, with what stands out in it. */
interface Seen {
  readonly w: RegionWindow;
  readonly smoothed: Smoothed;
  readonly contrast: Float32Array;
  readonly body: Body;
}

function cropPart({ w, smoothed: s, contrast, body }: Seen, label: Int32Array, k: number, box: Box): Part {
  const room = 5;
  const x0 = Math.max(0, box.x0 - room);
  const y0 = Math.max(0, box.y0 - room);
  const width = Math.min(w.width, box.x1 + room) - x0;
  const height = Math.min(w.height, box.y1 + room) - y0;
  const n = width * height;
  const at: WindowPart = { x0, y0, x1: x0 + width, y1: y0 + height };
  const whose = takeBytes(n);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const l = label[(y0 + y) * w.width + x0 + x]!;
      whose[y * width + x] = l === k ? 1 : l > 0 ? 2 : 0;
    }
  }
  return {
    x0: w.x0 + x0,
    y0: w.y0 + y0,
    width,
    height,
    whose,
    field: floatsWithin(body.field, w.width, at),
    z: floatsWithin(s.z, w.width, at),
    l: floatsWithin(s.l, w.width, at),
    a: s.a && floatsWithin(s.a, w.width, at),
    b: s.b && floatsWithin(s.b, w.width, at),
    contrast: floatsWithin(contrast, w.width, at),
    level: floatsWithin(body.level, w.width, at),
    zone: w.planes.zone.length ? bytesWithin(w.planes.zone, w.width, at) : null,
    sigma: s.sigma,
    step: s.step,
    light: { planes: null },
  };
}
