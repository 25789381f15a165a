/** The neighbourhood of one candidate region, measured against the membrane and smoothed as far as its faintness asks. */
import { roomOf, takeBytes, takeFloats } from './kernels/room.ts';
import { lightnessAlone, type OpponentPlanes, opponentPlanes, type PhotoRows } from './lightness.ts';
import { localMax } from './local-max.ts';
import type { Membrane } from './membrane.ts';
import { blur, type Plane, smooth } from './pyramid.ts';
import type { Region } from './regions.ts';
import { fieldAt } from './tile-field.ts';

/** Room around a region, px. */
export const RIM = 16;

export interface RegionWindow {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  /** What the print does not explain. */
  readonly planes: OpponentPlanes;
  /** Lightness with the print left in, smoothed once; null where no print is near. */
  readonly printed: Float32Array | null;
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
  const planes = opponentPlanes(rows, membrane.background, membrane.print, x0, y0, width, height, [1, 1]);
  const printed = planes.zone.includes(1)
    ? smooth({ width, height, data: lightnessAlone(rows, membrane.background, x0, y0, width, height) }).data
    : null;
  const own = takeBytes(width * height).fill(0);
  for (let i = 0; i < region.runs.length; i += 3) {
    const row = (region.runs[i]! - y0) * width;
    own.fill(1, row + region.runs[i + 1]! - x0, row + region.runs[i + 2]! - x0);
  }
  return { x0, y0, width, height, planes, printed, own };
}

/** A rectangle of a window, in pixels of the window: first column and row, and those beyond. */
export interface WindowPart {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** The part of a plane `stride` wide. */
export const floatsWithin = (from: Float32Array, stride: number, at: WindowPart): Float32Array =>
  cut(from, takeFloats((at.x1 - at.x0) * (at.y1 - at.y0)), stride, at);

/** As `floatsWithin`, for bytes. */
export const bytesWithin = (from: Uint8Array, stride: number, at: WindowPart): Uint8Array =>
  cut(from, takeBytes((at.x1 - at.x0) * (at.y1 - at.y0)), stride, at);

function cut<T extends Float32Array | Uint8Array>(from: T, out: T, stride: number, at: WindowPart): T {
  const width = at.x1 - at.x0;
  const rows = at.y1 - at.y0;
  const start = at.y0 * stride + at.x0;
  const size = from.BYTES_PER_ELEMENT;
  const room = roomOf(from, out);
  if (room)
    room.kernels.crop(from.byteOffset + size * start, size * stride, size * width, rows, out.byteOffset);
  else {
    for (let y = 0; y < rows; y++)
      out.set(from.subarray(start + y * stride, start + y * stride + width), y * width);
  }
  return out;
}

/** A smaller window within `w` with what has been smoothed of it, to smooth on from there. */
export function narrowed(w: RegionWindow, s: Smoothed, at: WindowPart): [RegionWindow, Smoothed] {
  const width = at.x1 - at.x0;
  const height = at.y1 - at.y0;
  const zone = w.planes.zone.length ? bytesWithin(w.planes.zone, w.width, at) : w.planes.zone;
  const none = new Float32Array(0);
  return [
    {
      x0: w.x0 + at.x0,
      y0: w.y0 + at.y0,
      width,
      height,
      planes: { width, height, lightness: none, redGreen: none, blueYellow: none, zone },
      printed: w.printed && zone.includes(1) ? floatsWithin(w.printed, w.width, at) : null,
      own: bytesWithin(w.own, w.width, at),
    },
    {
      ...s,
      l: floatsWithin(s.l, w.width, at),
      a: s.a && floatsWithin(s.a, w.width, at),
      b: s.b && floatsWithin(s.b, w.width, at),
      z: none,
    },
  ];
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

/** As `rounds`, for a colour: at least two, on from the step before where there is one. */
const colourRounds = (
  own: Float32Array,
  last: Float32Array | null | undefined,
  width: number,
  height: number,
  done: number,
  n: number,
): Float32Array => rounds(last ?? own, width, height, last ? Math.max(2, done) : 0, Math.max(2, n));

/** Noise after n binomial rounds (variance n/2), read between the levels, whose windows have about 0.6 · 4^k. */
function noiseAfter(membrane: Membrane, n: number, of: NoisePlane, x: number, y: number): number {
  const at = Math.max(0, Math.log(n / 2 / 0.6) / Math.log(4));
  const k = Math.min(membrane.noise.length - 2, Math.floor(at));
  const t = Math.min(1, at - k);
  return fieldAt(membrane.noise[k]![of]!, x, y) * (1 - t) + fieldAt(membrane.noise[k + 1]![of]!, x, y) * t;
}

type NoisePlane = 'lightness' | 'redGreen' | 'blueYellow';

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
): Smoothed {
  const { width, height, planes } = w;
  const n = ROUNDS[step]!;
  const done = before ? ROUNDS[before.step]! : 0;
  const colour = membrane.channels === 3;
  const l = rounds(before ? before.l : planes.lightness, width, height, done, n);
  const a = colour ? colourRounds(planes.redGreen, before?.a, width, height, done, n) : null;
  const b = colour ? colourRounds(planes.blueYellow, before?.b, width, height, done, n) : null;
  const mx = w.x0 + width / 2;
  const my = w.y0 + height / 2;
  const sl = noiseAfter(membrane, n, 'lightness', mx, my);
  const sa = colour ? noiseAfter(membrane, Math.max(2, n), 'redGreen', mx, my) : 1;
  const sb = colour ? noiseAfter(membrane, Math.max(2, n), 'blueYellow', mx, my) : 1;
  const z = takeFloats(l.length);
  strengthOf(l, a, b, [sl, sa, sb], z);
  if (w.printed) {
    const { zone } = w.planes;
    const [easeL, easeC] = membrane.noise[1]!.onPrint;
    for (let i = 0; i < zone.length; i++) {
      if (zone[i] !== 1) continue;
      let q = (l[i]! / (sl * easeL)) ** 2;
      if (a && b) q += (a[i]! / (sa * easeC)) ** 2 + (b[i]! / (sb * easeC)) ** 2;
      z[i] = Math.sqrt(q);
    }
  }
  return { step, l, a, b, sigma: [sl, sa, sb], z };
}

/** Distance from the membrane in units of the noise. */
export function strengthOf(
  l: Float32Array,
  a: Float32Array | null,
  b: Float32Array | null,
  [sl, sa, sb]: Smoothed['sigma'],
  z: Float32Array,
): void {
  const room = a && b ? roomOf(l, a, b, z) : roomOf(l, z);
  if (room) {
    const [pa, pb] = a && b ? [a.byteOffset, b.byteOffset] : [0, 0];
    room.kernels.strength(l.byteOffset, pa, pb, l.length, 1 / sl, 1 / sa, 1 / sb, z.byteOffset);
    return;
  }
  for (let i = 0; i < l.length; i++) {
    let q = (l[i]! / sl) ** 2;
    if (a && b) q += (a[i]! / sa) ** 2 + (b[i]! / sb) ** 2;
    z[i] = Math.sqrt(q);
  }
}

/** Distance from the membrane as a part of its white, noise taken off. */
export function contrastOf(w: RegionWindow, s: Smoothed, membrane: Membrane, growAt: number): Float32Array {
  const { l, a, b } = s;
  const [sl, sa, sb] = s.sigma;
  const light = beyondNoise(l, null, sl * sl);
  const hue = a && b ? beyondNoise(a, b, sa * sa + sb * sb) : null;
  if (w.printed) {
    const least = sl * membrane.noise[1]!.onPrint[0] * growAt;
    overPrint(w.printed, w.planes.zone, l, least, light);
  }
  return mixed(light, hue, w.width, w.height);
}

/** Sum of the squares of one or two planes, less the noise's own. */
export function beyondNoise(a: Float32Array, b: Float32Array | null, off: number): Float32Array {
  const out = takeFloats(a.length);
  const room = b ? roomOf(a, b, out) : roomOf(a, out);
  if (room) room.kernels.beyond(a.byteOffset, b?.byteOffset ?? 0, a.length, off, out.byteOffset);
  else {
    for (let i = 0; i < a.length; i++) out[i] = Math.max(0, a[i]! * a[i]! + (b ? b[i]! * b[i]! : 0) - off);
  }
  return out;
}

/** Height above the membrane from squared lightness and squared colour, the latter weighed by how much it is needed. */
export function mixed(
  light: Float32Array,
  hue: Float32Array | null,
  width: number,
  height: number,
): Float32Array {
  const out = takeFloats(light.length);
  if (!hue) {
    for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(light[i]!);
    return out;
  }
  const mostLight = localMax(light, width, height, COMPARED);
  const mostHue = localMax(hue, width, height, COMPARED);
  const room = roomOf(light, hue, mostLight, mostHue, out);
  if (room) {
    const [l, h, ml, mh] = [light, hue, mostLight, mostHue].map((p) => p.byteOffset) as [
      number,
      number,
      number,
      number,
    ];
    room.kernels.mix(l, h, ml, mh, out.length, COLOUR_WEIGHT, COLOUR_BESIDE_LIGHT, out.byteOffset);
    return out;
  }
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
  printed: Float32Array,
  zone: Uint8Array,
  off: Float32Array,
  least: number,
  light: Float32Array,
): void {
  for (let i = 0; i < light.length; i++) {
    if (zone[i] === 1 && Math.abs(off[i]!) >= least) light[i] = Math.max(light[i]!, printed[i]! ** 2);
  }
}
