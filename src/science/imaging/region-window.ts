/** The neighbourhood of one candidate region, measured against the membrane and smoothed as far as its faintness asks. */
import { type OpponentPlanes, opponentPlanes, type PhotoRows } from './lightness.ts';
import { localMax } from './local-max.ts';
import type { LevelNoise } from './local-noise.ts';
import type { Membrane } from './membrane.ts';
import { blur, type Plane, smooth } from './pyramid.ts';
import type { Region } from './regions.ts';
import { fieldAt } from './tile-field.ts';

/** Room around a region, px. */
const RIM = 16;

export interface RegionWindow {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  /** What the print does not explain. */
  readonly planes: OpponentPlanes;
  /** With the print left in; null where no print is near. */
  readonly printed: OpponentPlanes | null;
  /** 1 in the region itself. */
  readonly own: Uint8Array;
}

/** Smoothing rounds of each step; n binomial rounds blur by √(n/2) px. */
export const ROUNDS = [1, 4, 16, 56] as const;

export function windowOf(region: Region, rows: PhotoRows, membrane: Membrane): RegionWindow {
  const x0 = Math.max(0, region.x0 - RIM);
  const y0 = Math.max(0, region.y0 - RIM);
  const width = Math.min(membrane.width, region.x1 + RIM) - x0;
  const height = Math.min(membrane.height, region.y1 + RIM) - y0;
  const look = (ease: readonly [number, number] | null) =>
    opponentPlanes(rows, membrane.background, membrane.print, x0, y0, width, height, ease);
  const planes = look([1, 1]);
  const printed = planes.zone.includes(1) ? look(null) : null;
  const own = new Uint8Array(width * height);
  for (let i = 0; i < region.runs.length; i += 3) {
    const row = (region.runs[i]! - y0) * width;
    own.fill(1, row + region.runs[i + 1]! - x0, row + region.runs[i + 2]! - x0);
  }
  return { x0, y0, width, height, planes, printed, own };
}

/** One smoothing of a window. */
export interface Smoothed {
  readonly step: number;
  readonly l: Float32Array;
  /** Null for a grey picture. */
  readonly a: Float32Array | null;
  readonly b: Float32Array | null;
  /** Standard deviation of empty membrane in l, a and b. */
  readonly sigma: readonly [l: number, a: number, b: number];
  /** Distance from the membrane in units of its noise. */
  readonly z: Float32Array;
  /** Distance from the membrane as a part of its white, noise taken off. */
  readonly contrast: Float32Array;
}

/** Smooths on from `done` rounds to `n`; many rounds are taken as running means of the same variance. */
function rounds(data: Float32Array, width: number, height: number, done: number, n: number): Float32Array {
  let p: Plane = { width, height, data };
  const more = n - done;
  // Variance of n rounds is n/2, of the running means r² + r.
  if (more >= 12) return blur(p, Math.round((Math.sqrt(1 + 2 * more) - 1) / 2)).data;
  for (let k = 0; k < more; k++) p = smooth(p);
  return p.data;
}

/** Noise after n binomial rounds (variance n/2), read between the levels, whose windows have about 0.6 · 4^k. */
function noiseAfter(membrane: Membrane, n: number, pick: (level: LevelNoise) => number): number {
  const at = Math.max(0, Math.log(n / 2 / 0.6) / Math.log(4));
  const k = Math.min(membrane.noise.length - 2, Math.floor(at));
  const t = Math.min(1, at - k);
  return pick(membrane.noise[k]!) * (1 - t) + pick(membrane.noise[k + 1]!) * t;
}

/**
 * Weight of a colour difference against a lightness difference of the same size. Colour is blurred by the camera and by
 * compression: it draws the rim only where lightness hardly shows one.
 */
const COLOUR_WEIGHT = 0.7;
const COLOUR_BESIDE_LIGHT = 0.12;

/** Reach of "nearby" when lightness and colour are compared, px. */
const COMPARED = 5;

/** The window at one step; `before` is the step before, which this one smooths on from. */
export function smoothWindow(
  w: RegionWindow,
  membrane: Membrane,
  step: number,
  before: Smoothed | null,
  growAt: number,
): Smoothed {
  const { width, height, planes } = w;
  const n = ROUNDS[step]!;
  const done = before ? ROUNDS[before.step]! : 0;
  const colour = membrane.channels === 3;
  const l = rounds(before ? before.l : planes.lightness, width, height, done, n);
  const of = (own: Float32Array, last: Float32Array | null | undefined) =>
    rounds(last ?? own, width, height, last ? Math.max(2, done) : 0, Math.max(2, n));
  const a = colour ? of(planes.redGreen, before?.a) : null;
  const b = colour ? of(planes.blueYellow, before?.b) : null;
  const mx = w.x0 + width / 2;
  const my = w.y0 + height / 2;
  const sl = noiseAfter(membrane, n, (k) => fieldAt(k.lightness, mx, my));
  const sa = colour ? noiseAfter(membrane, Math.max(2, n), (k) => fieldAt(k.redGreen!, mx, my)) : 1;
  const sb = colour ? noiseAfter(membrane, Math.max(2, n), (k) => fieldAt(k.blueYellow!, mx, my)) : 1;
  const z = new Float32Array(l.length);
  const light = new Float32Array(l.length);
  const hue = new Float32Array(colour ? l.length : 0);
  const [easeL, easeC] = membrane.noise[1]!.onPrint;
  const zone = w.printed ? w.planes.zone : null;
  for (let i = 0; i < l.length; i++) {
    const dl = l[i]!;
    const onPrint = zone !== null && zone[i] === 1;
    let q = (dl / (onPrint ? sl * easeL : sl)) ** 2;
    light[i] = Math.max(0, dl * dl - sl * sl);
    if (a && b) {
      const da = a[i]!;
      const db = b[i]!;
      const ec = onPrint ? easeC : 1;
      q += (da / (sa * ec)) ** 2 + (db / (sb * ec)) ** 2;
      hue[i] = Math.max(0, da * da + db * db - sa * sa - sb * sb);
    }
    z[i] = Math.sqrt(q);
  }
  if (w.printed && zone) overPrint(w.printed, zone, l, sl * easeL * growAt, light);
  return { step, l, a, b, sigma: [sl, sa, sb], z, contrast: mixed(light, hue, width, height) };
}

/** Height above the membrane from squared lightness and squared colour, the latter weighed by how much it is needed. */
function mixed(light: Float32Array, hue: Float32Array, width: number, height: number): Float32Array {
  const out = new Float32Array(light.length);
  if (hue.length === 0) {
    for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(light[i]!);
    return out;
  }
  const mostLight = localMax(light, width, height, COMPARED);
  const mostHue = localMax(hue, width, height, COMPARED);
  for (let i = 0; i < out.length; i++) {
    // Ratio of heights 1 and below: colour alone would be needed; 2 and above: lightness serves.
    const ratio = Math.sqrt(mostLight[i]! / (mostHue[i]! + 1e-12)) / COLOUR_WEIGHT;
    const t = Math.min(1, Math.max(0, (ratio - 0.5) / 0.7));
    const c = COLOUR_WEIGHT * (1 - t) + COLOUR_BESIDE_LIGHT * t;
    out[i] = Math.sqrt(light[i]! + c * c * hue[i]!);
  }
  return out;
}

/**
 * A piece darker than the ink or brighter than the membrane stands as high above the membrane on the print as beside it.
 * Colour alone does not show that: it spreads from beside the print.
 */
function overPrint(
  printed: OpponentPlanes,
  zone: Uint8Array,
  off: Float32Array,
  least: number,
  light: Float32Array,
): void {
  const { width, height } = printed;
  const l = smooth({ width, height, data: printed.lightness }).data;
  for (let i = 0; i < light.length; i++) {
    if (zone[i] === 1 && Math.abs(off[i]!) >= least) light[i] = Math.max(light[i]!, l[i]! ** 2);
  }
}
