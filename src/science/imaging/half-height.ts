/**
 * Which pixels are piece: those that stand at least half as high above the membrane as the piece does right there.
 * Half height is where a blurred edge truly lies, so areas neither grow with blur nor with contrast; taking the height
 * nearby, not over the whole piece, lets one outline run around a bright face, its shaded flank and a fading end.
 */
import { grow } from './connected.ts';
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
  const mask = new Uint8Array(n);
  const field = new Float32Array(n);
  const levels = new Float32Array(n);
  const [sl] = s.sigma;
  for (let i = 0; i < n; i++) {
    const level = Math.max(0.5 * high.data[i]!, HALO * around[i]!, sl);
    levels[i] = level;
    field[i] = contrast[i]! / level - 1;
    if (field[i]! >= 0 && s.z[i]! >= growAt) mask[i] = 1;
  }
  bridgeFlanks(mask, s.l, width, height, r);
  return { mask, field, level: levels };
}

/** Closes slits up to 2r px wide: where a piece turns from brighter to darker than the membrane it must cross it. */
export function closeSlits(mask: Uint8Array, width: number, height: number, r: number): Uint8Array {
  const wide = grow(mask, width, height, r);
  const outside = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) outside[i] = wide[i] ? 0 : 1;
  const back = grow(outside, width, height, r);
  const out = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) out[i] = mask[i] || !back[i] ? 1 : 0;
  return out;
}

/**
 * A bright face and its dark flank are one piece, and what lies between them within r px of both belongs to it: on the
 * way from brighter to darker the contrast must vanish somewhere.
 */
function bridgeFlanks(mask: Uint8Array, l: Float32Array, width: number, height: number, r: number): void {
  const bright = new Uint8Array(mask.length);
  const dark = new Uint8Array(mask.length);
  let both = 0;
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    if (l[i]! > 0) {
      bright[i] = 1;
      both |= 1;
    } else {
      dark[i] = 1;
      both |= 2;
    }
  }
  if (both !== 3) return;
  const nearBright = grow(bright, width, height, r);
  const nearDark = grow(dark, width, height, r);
  for (let i = 0; i < mask.length; i++) if (nearBright[i] && nearDark[i]) mask[i] = 1;
}
