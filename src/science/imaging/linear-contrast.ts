/**
 * How far a piece differs from its membrane in linear light. Optics blur light, not codes: only in linear light does a
 * blurred straight edge stand at half height where the edge truly lies.
 */
import { linear } from './colour-name.ts';
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

/**
 * Contrast of a window in the direction in which `core` (1 for pixels that surely are piece) differs from the membrane:
 * luminance where it tells, else the piece's own hue. Null where bright and dark parts of the core cancel.
 */
export function linearContrast(
  rows: PhotoRows,
  membrane: Membrane,
  core: Uint8Array,
  x0: number,
  y0: number,
  width: number,
  height: number,
): ContrastSheet | null {
  const { picture } = rows;
  const channels = picture.channels;
  const n = width * height;
  const planes = Array.from({ length: channels }, () => new Float32Array(n));
  const back = new Float32Array(width);
  const scale = STEPS / picture.full;
  for (let y = 0; y < height; y++) {
    const at = ((y0 + y - rows.top) * picture.width + x0 - (rows.left ?? 0)) * channels;
    for (let c = 0; c < channels; c++) {
      fieldRow(membrane.background[c]!, y0 + y, x0, 1, width, back);
      const plane = planes[c]!;
      for (let x = 0; x < width; x++) {
        const white = codes[Math.min(STEPS, Math.max(1, Math.round(back[x]! * STEPS)))]!;
        plane[y * width + x] = codes[Math.round(picture.data[at + x * channels + c]! * scale)]! / white - 1;
      }
    }
  }
  const mean = planes.map(() => 0);
  let count = 0;
  for (let i = 0; i < n; i++) {
    if (!core[i]) continue;
    count++;
    for (let c = 0; c < channels; c++) mean[c]! += planes[c]![i]!;
  }
  if (count === 0) return null;
  for (let c = 0; c < channels; c++) mean[c]! /= count;
  const weights = direction(planes, core, mean, count);
  if (!weights) return null;
  const data = new Float32Array(n);
  for (let c = 0; c < channels; c++) {
    const plane = planes[c]!;
    const w = weights[c]!;
    for (let i = 0; i < n; i++) data[i] = data[i]! + w * plane[i]!;
  }
  let sum = 0;
  let square = 0;
  for (let i = 0; i < n; i++) {
    if (!core[i]) continue;
    sum += data[i]!;
    square += data[i]! ** 2;
  }
  return sum / count < ONE_SIGN * Math.sqrt(square / count)
    ? null
    : { x0, y0, width, height, data, most: mostOf(weights, mean) };
}

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
  core: Uint8Array,
  mean: readonly number[],
  count: number,
): number[] | null {
  const most = Math.max(...mean.map(Math.abs));
  if (!(most > 1e-4)) return null;
  if (mean.length === 1) return [mean[0]! < 0 ? -1 : 1];
  const spread = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < core.length; i++) {
    if (!core[i]) continue;
    for (let c = 0; c < 3; c++) {
      const d = planes[c]![i]! - mean[c]!;
      for (let k = 0; k < 3; k++) spread[3 * c + k]! += (d * (planes[k]![i]! - mean[k]!)) / count;
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
