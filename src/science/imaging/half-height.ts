/**
 * Which pixels are piece: those that stand at least half as high above the membrane as the piece does right there.
 * Half height is where a blurred edge truly lies, so areas neither grow with blur nor with contrast; taking the height
 * nearby, not over the whole piece, lets one outline run around a bright face, its shaded flank and a fading end.
 */
import { grow } from './connected.ts';
import { type Plane, smooth } from './pyramid.ts';
import type { RegionWindow, Smoothed } from './region-window.ts';

export interface Body {
  /** 1 where at or above half height and above the noise. */
  readonly mask: Uint8Array;
  /** Above 0 inside, below 0 outside, crossing 0 at half height; smooth enough to interpolate. */
  readonly field: Float32Array;
}

/** Largest value within ± r in both directions. */
export function localMax(data: Float32Array, width: number, height: number, r: number): Float32Array {
  const wide = new Float32Array(data.length);
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    for (let x = 0; x < width; x++) {
      let m = 0;
      const to = Math.min(width - 1, x + r);
      for (let u = Math.max(0, x - r); u <= to; u++) if (data[o + u]! > m) m = data[o + u]!;
      wide[o + x] = m;
    }
  }
  for (let y = 0; y < height; y++) {
    const from = Math.max(0, y - r);
    const to = Math.min(height - 1, y + r);
    for (let x = 0; x < width; x++) {
      let m = 0;
      for (let v = from; v <= to; v++) {
        const t = wide[v * width + x]!;
        if (t > m) m = t;
      }
      out[y * width + x] = m;
    }
  }
  return out;
}

/** Reach of "right there", px, for each smoothing step. */
const NEAR = [4, 5, 8, 12] as const;
/** Beside something high, haloes of sharpening and compression reach a good tenth of its height. */
const HALO = 0.14;

export function bodyAt(w: RegionWindow, s: Smoothed, growAt: number): Body {
  const { width, height } = w;
  const n = s.contrast.length;
  let calm: Plane = { width, height, data: s.contrast };
  calm = smooth(smooth(calm));
  const r = NEAR[s.step]!;
  let high: Plane = { width, height, data: localMax(calm.data, width, height, r) };
  high = smooth(smooth(high));
  const around = localMax(high.data, width, height, r + 4);
  const mask = new Uint8Array(n);
  const field = new Float32Array(n);
  const [sl] = s.sigma;
  for (let i = 0; i < n; i++) {
    const level = Math.max(0.5 * high.data[i]!, HALO * around[i]!, sl);
    field[i] = s.contrast[i]! / level - 1;
    if (field[i]! >= 0 && s.z[i]! >= growAt) mask[i] = 1;
  }
  return { mask, field };
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
