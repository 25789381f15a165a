/**
 * Looks along the lines of a supposed lattice and takes, piece by piece, the mean course of brightness across the line.
 * Pieces are whole rows (upright lines) or columns (level lines) so that no sampling pattern can shift a middle.
 */
import { type LatticeMap, mapToGrid, mapToPhoto } from './lattice.ts';
import { gridReach } from './lattice-make.ts';

/** Where brightness is read: one sample covers `step` px of the photograph each way; values times weights give 0 to 1. */
export interface Sampler {
  readonly width: number;
  readonly height: number;
  readonly step: number;
  readonly data: Float32Array | Uint8Array | Uint16Array;
  readonly channels: 1 | 3;
  readonly weights: readonly [number, number, number];
}

/** One piece of one line. */
export interface Piece {
  /** Middle of the piece on the supposed line, px of the photograph. */
  readonly x: number;
  readonly y: number;
  readonly runs: 'column' | 'row';
  readonly index: number;
  /** Moving by one px across the line, towards higher column or row, is moving this much in x or in y. */
  readonly perPx: number;
  /** Brightness at offsets (i − (n − 1)/2) · spacing px across the line. */
  readonly across: Float64Array;
}

export interface TraceWish {
  /** Half the width looked at, px. */
  readonly reach: number;
  /** Distance between samples across, px. */
  readonly spacing: number;
  /** Length of a piece along the line, px. */
  readonly length: number;
  /** Rows or columns read in a piece, at most. */
  readonly reads: number;
  /** A line must lie this far inside the picture, px; beyond the border its last pixel is repeated. */
  readonly margin: number;
  /** Added to every index: 0.5 looks midway between lines. */
  readonly shift?: number;
}

/** All pieces of all lines that lie in the picture. */
export function tracePieces(sampler: Sampler, map: LatticeMap, wish: TraceWish): Piece[] {
  const { step } = sampler;
  const width = sampler.width * step;
  const height = sampler.height * step;
  const reach = gridReach(map, width, height);
  const shift = wish.shift ?? 0;
  const pieces: Piece[] = [];
  const pitch = localPitch(map, width / 2, height / 2);
  const dt = wish.length / pitch;
  const n = 2 * Math.ceil(wish.reach / wish.spacing) + 1;
  for (const runs of ['column', 'row'] as const) {
    const upright = runs === 'column';
    const [i0, i1] = upright ? [reach.c0, reach.c1] : [reach.r0, reach.r1];
    const [t0, t1] = upright ? [reach.r0, reach.r1] : [reach.c0, reach.c1];
    for (let index = Math.ceil(i0 - shift); index + shift <= i1; index++) {
      const place = (t: number) =>
        upright ? mapToPhoto(map, index + shift, t) : mapToPhoto(map, t, index + shift);
      for (let t = t0 + dt / 2; t < t1; t += dt) {
        const [x, y] = place(t);
        if (x < 0 || y < 0 || x >= width || y >= height) continue;
        const [xa, ya] = place(t - dt / 2);
        const [xb, yb] = place(t + dt / 2);
        const piece = upright
          ? readPiece(sampler, x, y, (xb - xa) / (yb - ya), Math.abs(yb - ya), n, wish, true)
          : readPiece(sampler, y, x, (yb - ya) / (xb - xa), Math.abs(xb - xa), n, wish, false);
        if (piece) pieces.push({ x, y, runs, index, ...piece });
      }
    }
  }
  return pieces;
}

function localPitch(map: LatticeMap, x: number, y: number): number {
  const [c, r] = mapToGrid(map, x, y);
  const a = mapToPhoto(map, c - 0.5, r);
  const b = mapToPhoto(map, c + 0.5, r);
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** `across` and `along` are coordinates of the piece's middle: (x, y) for an upright line, (y, x) for a level one. */
export function readPiece(
  sampler: Sampler,
  across: number,
  along: number,
  slope: number,
  span: number,
  n: number,
  wish: TraceWish,
  upright: boolean,
): { across: Float64Array; perPx: number } | null {
  const { step, data, channels, weights } = sampler;
  const [w0, w1, w2] = weights;
  const second = channels === 3 ? 1 : 0;
  const third = channels === 3 ? 2 : 0;
  const jump = upright ? channels : sampler.width * channels;
  const line = upright ? sampler.width * channels : channels;
  const sizeAcross = upright ? sampler.width : sampler.height;
  const sizeAlong = upright ? sampler.height : sampler.width;
  const perPx = Math.sqrt(1 + slope * slope);
  const first = Math.max(0, Math.ceil((along - span / 2) / step - 0.5));
  const last = Math.min(sizeAlong - 1, Math.floor((along + span / 2) / step - 0.5));
  const count = last - first + 1;
  if (count < 1) return null;
  const stride = Math.max(1, Math.floor(count / wish.reads));
  const out = new Float64Array(n);
  const gap = (wish.spacing * perPx) / step;
  const half = ((n - 1) / 2) * gap;
  const margin = wish.margin / step;
  let reads = 0;
  for (let j = first; j <= last; j += stride) {
    const middle = (across + slope * ((j + 0.5) * step - along)) / step - 0.5;
    if (middle < margin || middle > sizeAcross - 1 - margin) continue;
    reads++;
    const base = j * line;
    let s = middle - half;
    for (let k = 0; k < n; k++, s += gap) {
      const i = s < 0 ? 0 : Math.min(sizeAcross - 2, Math.floor(s));
      const f = s < 0 ? 0 : Math.min(1, s - i);
      const a = base + i * jump;
      const b = a + jump;
      const va = w0 * data[a]! + w1 * data[a + second]! + w2 * data[a + third]!;
      const vb = w0 * data[b]! + w1 * data[b + second]! + w2 * data[b + third]!;
      out[k]! += va + f * (vb - va);
    }
  }
  if (reads < Math.min(3, count)) return null;
  for (let k = 0; k < n; k++) out[k]! /= reads;
  return { across: out, perPx };
}
