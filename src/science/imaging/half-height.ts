/**
 * Which pixels are piece: those that stand at least half as high above the membrane as the piece does right there.
 * Half height is where a blurred edge truly lies, so areas neither grow with blur nor with contrast; taking the height
 * nearby, not over the whole piece, lets one outline run around a bright face, its shaded flank and a fading end.
 */
import { grow, inFours } from './connected.ts';
import { roomOf, takeBytes, takeFloats } from './kernels/room.ts';
import { localMax } from './local-max.ts';
import { type Plane, smooth } from './pyramid.ts';
import type { RegionWindow, Smoothed } from './region-window.ts';

export interface Body {
  /** 1 where at or above half height and above the noise. */
  readonly mask: Uint8Array;
  /** Above 0 inside, below 0 outside, crossing 0 at half height; smooth enough to interpolate. */
  readonly field: Float32Array;
  /** Half of the height nearby. */
  readonly level: Float32Array;
}

/** Reach of "right there", px, for each smoothing step. */
const NEAR = [4, 5, 8, 12] as const;
/** Beside something high, haloes of sharpening and compression reach a good tenth of its height. */
const HALO = 0.14;

export function bodyAt(w: RegionWindow, s: Smoothed, contrast: Float32Array, growAt: number): Body {
  const { width, height } = w;
  const n = contrast.length;
  let calm: Plane = { width, height, data: contrast };
  calm = smooth(smooth(calm));
  const r = NEAR[s.step]!;
  let high: Plane = { width, height, data: localMax(calm.data, width, height, r) };
  high = smooth(smooth(high));
  const around = localMax(high.data, width, height, r + 4);
  const body = { mask: takeBytes(n), field: takeFloats(n), level: takeFloats(n) };
  const { mask, field, level } = body;
  const [sl] = s.sigma;
  const room = roomOf(contrast, high.data, around, s.z, mask, field, level);
  if (room) {
    const [c, h, a, z] = [contrast, high.data, around, s.z].map((p) => p.byteOffset) as [
      number,
      number,
      number,
      number,
    ];
    const [to, f, m] = [level.byteOffset, field.byteOffset, mask.byteOffset];
    room.kernels.halfHeight(c, h, a, z, n, HALO, sl, growAt, to, f, m);
  } else halfHeightPlainly(contrast, high.data, around, s.z, sl, growAt, body);
  bridgeFlanks(mask, s.l, width, height, r);
  return body;
}

/** The reference for the kernel. */
export function halfHeightPlainly(
  contrast: Float32Array,
  high: Float32Array,
  around: Float32Array,
  z: Float32Array,
  least: number,
  growAt: number,
  { mask, field, level }: Body,
): void {
  for (let i = 0; i < contrast.length; i++) {
    level[i] = Math.max(0.5 * high[i]!, HALO * around[i]!, least);
    field[i] = contrast[i]! / level[i]! - 1;
    mask[i] = field[i]! >= 0 && z[i]! >= growAt ? 1 : 0;
  }
}

/** 1 becomes 0 and 0 becomes 1. */
function turnOver(mask: Uint8Array): void {
  const fours = inFours(mask);
  const n = fours?.length ?? 0;
  for (let i = 0; i < n; i++) fours![i]! ^= 0x01010101;
  for (let i = 4 * n; i < mask.length; i++) mask[i]! ^= 1;
}

/** Closes slits up to 2r px wide: where a piece turns from brighter to darker than the membrane it must cross it. */
export function closeSlits(mask: Uint8Array, width: number, height: number, r: number): Uint8Array {
  const wide = grow(mask, width, height, r);
  turnOver(wide);
  const out = grow(wide, width, height, r);
  turnOver(out);
  const [to, from] = [inFours(out), inFours(mask)];
  const fours = to && from ? to.length : 0;
  for (let i = 0; i < fours; i++) to![i]! |= from![i]!;
  for (let i = 4 * fours; i < mask.length; i++) out[i]! |= mask[i]!;
  return out;
}

/**
 * A bright face and its dark flank are one piece, and what lies between them within r px of both belongs to it: on the
 * way from brighter to darker the contrast must vanish somewhere.
 */
function bridgeFlanks(mask: Uint8Array, l: Float32Array, width: number, height: number, r: number): void {
  const bright = takeBytes(mask.length);
  const dark = takeBytes(mask.length);
  let both = 0;
  for (let i = 0; i < mask.length; i++) {
    const m = mask[i]!;
    const up = l[i]! > 0 ? m : 0;
    bright[i] = up;
    dark[i] = m ^ up;
    both |= up | ((m ^ up) << 1);
  }
  if (both !== 3) return;
  const nearBright = grow(bright, width, height, r);
  const nearDark = grow(dark, width, height, r);
  for (let i = 0; i < mask.length; i++) if (nearBright[i] && nearDark[i]) mask[i] = 1;
}
