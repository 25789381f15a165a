/** A smaller grey picture to search in, and exact grey values of the full one. */
import type { Picture } from '../finding.ts';
import type { Sampler } from './trace.ts';

/** Grey values from 0 to 1; cell (i, j) covers `step` × `step` px of the photograph. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly step: number;
  readonly values: Float32Array;
}

/** Weights of R, G and B, in eighths: near the luminance of print and paper, and cheap. */
const RED = 2;
const GREEN = 5;
const BLUE = 1;

/** The picture reduced until its long side is at most `longSide`, by the mean of up to nine samples a cell. */
export function workingGrey(picture: Picture, longSide: number): Grey {
  const step = Math.max(1, Math.ceil(Math.max(picture.width, picture.height) / longSide));
  const width = Math.floor(picture.width / step);
  const height = Math.floor(picture.height / step);
  const values = new Float32Array(width * height);
  const each = Math.min(3, step);
  const gap = step / each;
  const offsets = Array.from({ length: each }, (_, i) => Math.floor((i + 0.5) * gap));
  const { data, channels } = picture;
  const scale = 1 / (picture.full * each * each * (channels === 3 ? RED + GREEN + BLUE : 1));
  const row = new Float64Array(width);
  for (let j = 0; j < height; j++) {
    row.fill(0);
    for (const oy of offsets) {
      const base = (j * step + oy) * picture.width * channels;
      for (const ox of offsets) {
        let at = base + ox * channels;
        const jump = step * channels;
        if (channels === 3) {
          for (let i = 0; i < width; i++) {
            row[i]! += RED * data[at]! + GREEN * data[at + 1]! + BLUE * data[at + 2]!;
            at += jump;
          }
        } else {
          for (let i = 0; i < width; i++) {
            row[i]! += data[at]!;
            at += jump;
          }
        }
      }
    }
    for (let i = 0; i < width; i++) values[j * width + i] = row[i]! * scale;
  }
  return { width, height, step, values };
}

/** Half as large each way. */
export function halved(grey: Grey): Grey {
  const width = grey.width >> 1;
  const height = grey.height >> 1;
  const values = new Float32Array(width * height);
  const g = grey.values;
  for (let j = 0; j < height; j++) {
    let at = 2 * j * grey.width;
    for (let i = 0; i < width; i++, at += 2) {
      values[j * width + i] = 0.25 * (g[at]! + g[at + 1]! + g[at + grey.width]! + g[at + grey.width + 1]!);
    }
  }
  return { width, height, step: grey.step * 2, values };
}

/** Reads the full picture's luminance, or the reduced one's, along lines. */
export function samplerOf(picture: Picture): Sampler {
  const { width, height, channels, data, full } = picture;
  const unit = 1 / (full * (RED + GREEN + BLUE));
  const weights =
    channels === 3 ? ([RED * unit, GREEN * unit, BLUE * unit] as const) : ([1 / full, 0, 0] as const);
  return { width, height, step: 1, data, channels, weights };
}

export function samplerOfGrey(grey: Grey): Sampler {
  return {
    width: grey.width,
    height: grey.height,
    step: grey.step,
    data: grey.values,
    channels: 1,
    weights: [1, 0, 0],
  };
}

/** Mean over a square of side 2·radius + 1, shrunk at the border; running sums, so any radius costs the same. */
export function boxMean(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  const across = new Float32Array(values.length);
  for (let j = 0; j < height; j++) {
    const base = j * width;
    let sum = 0;
    for (let i = 0; i < Math.min(radius, width); i++) sum += values[base + i]!;
    for (let i = 0; i < width; i++) {
      if (i + radius < width) sum += values[base + i + radius]!;
      if (i - radius - 1 >= 0) sum -= values[base + i - radius - 1]!;
      across[base + i] = sum / (Math.min(width - 1, i + radius) - Math.max(0, i - radius) + 1);
    }
  }
  const out = new Float32Array(values.length);
  const sums = new Float64Array(width);
  for (let j = 0; j < Math.min(radius, height); j++) {
    for (let i = 0; i < width; i++) sums[i]! += across[j * width + i]!;
  }
  for (let j = 0; j < height; j++) {
    const add = j + radius < height ? (j + radius) * width : -1;
    const drop = j - radius - 1 >= 0 ? (j - radius - 1) * width : -1;
    const n = Math.min(height - 1, j + radius) - Math.max(0, j - radius) + 1;
    for (let i = 0; i < width; i++) {
      let s = sums[i]!;
      if (add >= 0) s += across[add + i]!;
      if (drop >= 0) s -= across[drop + i]!;
      sums[i] = s;
      out[j * width + i] = s / n;
    }
  }
  return out;
}

/**
 * Line-like departures from the surroundings in units of their own noise, limited so that no speck outshouts a line:
 * at four times the noise, or at `loudest` (share of white) where that is more. What departs by more than `hush` (share
 * of white) is blotted out with its surroundings, so that faint print shows among strong pieces; null when `hush` would
 * blot out next to nothing or too much to be of use.
 */
export function ridges(grey: Grey, loudest = 0.02, hush = Number.POSITIVE_INFINITY): Float32Array | null {
  const near = boxMean(grey.values, grey.width, grey.height, 1);
  const wide = boxMean(grey.values, grey.width, grey.height, SURROUND);
  const out = new Float32Array(near.length);
  for (let i = 0; i < out.length; i++) out[i] = near[i]! - wide[i]!;
  if (hush < 1 && !blotOut(out, grey.width, grey.height, hush)) return null;
  const sample: number[] = [];
  for (let i = 0; i < out.length; i += 37) if (out[i] !== 0) sample.push(Math.abs(out[i]!));
  sample.sort((a, b) => a - b);
  // Median absolute deviation to standard deviation of a normal law: 1/0.6745. A floor of a third of an 8-bit step.
  const noise = Math.max(0.0013, (sample[sample.length >> 1] ?? 0) / 0.6745);
  const limit = Math.max(4, loudest / noise);
  for (let i = 0; i < out.length; i++) out[i] = Math.max(-limit, Math.min(limit, out[i]! / noise));
  return out;
}

/** Half the side of the square that counts as surroundings, px. */
const SURROUND = 8;

/** Zeroes what is louder than `hush` and all within reach of it; false when that is under 0.2 % or over 60 %. */
function blotOut(values: Float32Array, width: number, height: number, hush: number): boolean {
  const loud = new Float32Array(values.length);
  let count = 0;
  for (let i = 0; i < loud.length; i++) {
    if (Math.abs(values[i]!) > hush) {
      loud[i] = 1;
      count++;
    }
  }
  if (count < 0.002 * loud.length) return false;
  const reached = boxMean(loud, width, height, SURROUND);
  let blotted = 0;
  for (let i = 0; i < values.length; i++) {
    if (reached[i]! > 1e-6) {
      values[i] = 0;
      blotted++;
    }
  }
  return blotted < 0.6 * values.length;
}
