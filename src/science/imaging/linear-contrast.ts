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
/** Luminance draws the rim when it carries this part of the strongest channel's contrast: colour is stored coarser. */
const LIGHT_SERVES = 0.25;
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
    const at = ((y0 + y - rows.top) * picture.width + x0) * channels;
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
  const weights = direction(mean);
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
    : { x0, y0, width, height, data, most: weights.some((w) => w < 0) ? 1 : Number.POSITIVE_INFINITY };
}

function direction(mean: readonly number[]): number[] | null {
  if (mean.length === 1) return [mean[0]! < 0 ? -1 : 1];
  const light = LUMINANCE.reduce((s, w, c) => s + w * mean[c]!, 0);
  const most = Math.max(...mean.map(Math.abs));
  if (!(most > 1e-4)) return null;
  if (Math.abs(light) >= LIGHT_SERVES * most) return LUMINANCE.map((w) => (light < 0 ? -w : w));
  const size = Math.hypot(...mean);
  return mean.map((m) => m / size);
}
