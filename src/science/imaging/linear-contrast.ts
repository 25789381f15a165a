/**
 * How far a piece differs from its membrane in linear light. Optics blur light, not codes: only in linear light does a
 * blurred straight edge stand at half height where the edge truly lies.
 */
import { linear } from './colour-name.ts';
import { takeFloats } from './kernels/room.ts';
import type { PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import { fieldRow } from './tile-field.ts';

/** Luminance of linear sRGB. Source: IEC 61966-2-1 (ITU-R BT.709 primaries). */
const LUMINANCE = [0.2126, 0.7152, 0.0722] as const;
/**
 * How much the channels' own unevenness must be before it counts, as a part of the piece's contrast: noise and the coarse
 * storage of colour make a direction far from luminance no better than this.
 */
const EVENNESS = 0.25;
/** Where bright and dark parts cancel beyond this, no one height can be told. */
const ONE_SIGN = 0.55;

const STEPS = 4095;
const codes = Float32Array.from({ length: STEPS + 1 }, (_, i) => linear(i / STEPS));

export interface ContrastSheet {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  /** 0 is the membrane; positive is towards the piece. */
  readonly data: Float32Array;
  /** What a piece without any light of its own would show: 1 against a brighter membrane, without bound otherwise. */
  readonly most: number;
}

/** Each channel of a window as linear light against the membrane's: 0 is the membrane, −1 black. */
export function lightPlanes(
  rows: PhotoRows,
  membrane: Membrane,
  x0: number,
  y0: number,
  width: number,
  height: number,
): Float32Array[] {
  const { picture } = rows;
  const { channels, data: codesOf } = picture;
  const planes: Float32Array[] = [];
  for (let c = 0; c < channels; c++) planes.push(takeFloats(width * height));
  const back = takeFloats(width);
  const light = lightOf(picture.full);
  for (let y = 0; y < height; y++) {
    const at = ((y0 + y - rows.top) * picture.width + x0 - (rows.left ?? 0)) * channels;
    for (let c = 0; c < channels; c++) {
      fieldRow(membrane.background[c]!, y0 + y, x0, 1, width, back);
      const plane = planes[c]!;
      // The membrane's code changes every few dozen pixels.
      let code = -1;
      let per = 0;
      for (let x = 0, i = y * width, k = at + c; x < width; x++, i++, k += channels) {
        const own = (back[x]! * STEPS + 0.5) | 0;
        if (own !== code) {
          code = own;
          per = 1 / codes[Math.min(STEPS, Math.max(1, own))]!;
        }
        plane[i] = light[codesOf[k]!]! * per - 1;
      }
    }
  }
  return planes;
}

/**
 * Contrast of a window, given by its light, in the direction in which `core` (1 for pixels that surely are piece) differs
 * from the membrane: luminance where it tells, else the piece's own hue. Null where bright and dark parts of the core cancel.
 */
export function linearContrast(
  planes: readonly Float32Array[],
  core: Uint8Array,
  x0: number,
  y0: number,
  width: number,
  height: number,
): ContrastSheet | null {
  const channels = planes.length;
  const n = width * height;
  let count = 0;
  for (let i = 0; i < n; i++) if (core[i]) count++;
  if (count === 0) return null;
  const inside = new Int32Array(count);
  for (let i = 0, k = 0; i < n; i++) if (core[i]) inside[k++] = i;
  const mean: number[] = [];
  for (let c = 0; c < channels; c++) mean.push(meanOver(planes[c]!, inside));
  const weights = direction(planes, inside, mean);
  if (!weights) return null;
  const data = takeFloats(n);
  if (channels === 3) {
    const [p, q, r] = planes as [Float32Array, Float32Array, Float32Array];
    const [u, v, w] = weights as [number, number, number];
    for (let i = 0; i < n; i++) data[i] = u * p[i]! + v * q[i]! + w * r[i]!;
  } else for (let i = 0; i < n; i++) data[i] = weights[0]! * planes[0]![i]!;
  let sum = 0;
  let square = 0;
  for (let k = 0; k < count; k++) {
    const value = data[inside[k]!]!;
    sum += value;
    square += value * value;
  }
  return sum / count < ONE_SIGN * Math.sqrt(square / count)
    ? null
    : { x0, y0, width, height, data, most: mostOf(weights, mean) };
}

function meanOver(plane: Float32Array, places: Int32Array): number {
  let sum = 0;
  for (let k = 0; k < places.length; k++) sum += plane[places[k]!]!;
  return sum / places.length;
}

/** Linear light of each code of a photograph whose white is `full`; those of one photograph are kept. */
function lightOf(full: number): Float32Array {
  if (lights?.full !== full) {
    const table = new Float32Array(full <= 255 ? 256 : 65536).fill(1);
    for (let code = 0; code <= full; code++) table[code] = codes[Math.round((code * STEPS) / full)]!;
    lights = { full, table };
  }
  return lights.table;
}
let lights: { readonly full: number; readonly table: Float32Array } | null = null;

/** Contrast of a wholly black piece in a mixture of channels, where the piece is darker than its membrane. */
function mostOf(weights: readonly number[], mean: readonly number[]): number {
  const black = -weights.reduce((s, w) => s + w, 0);
  return black > 0 && mean.every((m) => m < 0.05) ? black : Number.POSITIVE_INFINITY;
}

/**
 * The mixture of channels in which the piece stands out most evenly: light falling on slopes changes some channels more
 * than others, and an edge is best told where it changes least (Fisher's direction, drawn towards luminance).
 */
function direction(
  planes: readonly Float32Array[],
  inside: Int32Array,
  mean: readonly number[],
): number[] | null {
  const most = Math.max(...mean.map(Math.abs));
  if (!(most > 1e-4)) return null;
  if (mean.length === 1) return [mean[0]! < 0 ? -1 : 1];
  const spread = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let c = 0; c < 3; c++) {
    for (let k = c; k < 3; k++) {
      const p = planes[c]!;
      const q = planes[k]!;
      const ofP = mean[c]!;
      const ofQ = mean[k]!;
      let sum = 0;
      for (let i = 0; i < inside.length; i++) sum += (p[inside[i]!]! - ofP) * (q[inside[i]!]! - ofQ);
      spread[3 * c + k] = spread[3 * k + c] = sum / inside.length;
    }
  }
  // What is added to each channel's unevenness is the less, the more luminance the channel carries.
  const ridge = (EVENNESS * most) ** 2;
  for (let c = 0; c < 3; c++) spread[4 * c]! += (ridge * 0.4) / (LUMINANCE[c]! + 0.1);
  const weights = solve3(spread, mean);
  const size = Math.hypot(...weights);
  return size > 0 ? weights.map((w) => w / size) : null;
}

/** Solution of a symmetric 3 × 3 system by cofactors. */
function solve3(m: readonly number[], b: readonly number[]): number[] {
  const [a, d, e, , f, g, , , h] = m as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const A = f * h - g * g;
  const B = e * g - d * h;
  const C = d * g - e * f;
  const det = a * A + d * B + e * C;
  const D = a * h - e * e;
  const E = d * e - a * g;
  const F = a * f - d * d;
  return [
    (A * b[0]! + B * b[1]! + C * b[2]!) / det,
    (B * b[0]! + D * b[1]! + E * b[2]!) / det,
    (C * b[0]! + E * b[1]! + F * b[2]!) / det,
  ];
}
