/** How blurred a photograph is, from its own sharpest edges. */
import { normalQuantile } from '../../maths/index.ts';
import type { Picture } from '../finding.ts';
import { samplerOf } from './luminance.ts';
import type { Sampler } from './trace.ts';

export interface Focus {
  /** Standard deviation of the blur at the sharper edges of the picture, px; null where too few edges are in view. */
  readonly blurPx: number | null;
  /** Edges that were measured. */
  readonly edges: number;
}

/** Px to each side of an edge that are read. */
const REACH = 20;
const FEWEST = 12;

/** Means of 2 × 2 px; an odd last row or column is left out. */
function halved({ width, height, channels, data, full }: Picture): Picture {
  const [w, h] = [width >> 1, height >> 1];
  const out = new Uint16Array(w * h * channels);
  const row = width * channels;
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      for (let c = 0; c < channels; c++) {
        const a = 2 * y * row + 2 * x * channels + c;
        const sum = data[a]! + data[a + channels]! + data[a + row]! + data[a + row + channels]!;
        out[(y * w + x) * channels + c] = sum / 4;
      }
    }
  }
  return { width: w, height: h, channels, data: out, full };
}

/** Halvings that are looked at; so many edges must agree on one. */
const COARSER = 3;
const FEWEST_COARSE = 24;
/** Beyond this blur, px, the ends of a step lie outside the reach and it reads too sharp (found on drawn steps): seen from further away it fits. */
const WIDE = 4;

/**
 * The blur of a photograph. Where it is wide, the picture is looked at from further away, by halves, until the steps fit
 * into the reach. Print is sharp by itself: where it was found (`printed`) and no edge as steep as a sharp one is left, the
 * soft ones are looked for in the same way.
 */
export function focusOf(picture: Picture, printed = false): Focus {
  let seen = picture;
  let focus = focusAtOnce(picture);
  if (focus.blurPx === null && !printed) return focus;
  for (let k = 1; k <= COARSER && (focus.blurPx ?? Number.POSITIVE_INFINITY) > WIDE * 2 ** (k - 1); k++) {
    seen = halved(seen);
    const { blurPx, edges } = focusAtOnce(seen);
    // Edges that would be sharp at this scale would have been seen at the finer one.
    if (blurPx !== null && edges >= FEWEST_COARSE && blurPx > 2) focus = { blurPx: blurPx * 2 ** k, edges };
  }
  return focus;
}

/**
 * In each of about 600 tiles the steepest place of luminance is looked up on every second row and column; along its own
 * axis the step's height over its steepest slope gives the blur: a step blurred by a normal law of spread σ has slope
 * height / (σ·√(2π)) at its middle (by differentiation). The lower quartile of all edges is told, as soft things
 * (films, stains) lie among sharp ones. Edges below 6 % of white, or not clearly above the local noise, are left out.
 * Deceives when everything in view is soft by itself; when the camera sharpens, or bars are thinner than the blur is wide, it
 * reads too small.
 */
function focusAtOnce(picture: Picture): Focus {
  const { width, height } = picture;
  const sampler = samplerOf(picture);
  const tile = Math.max(2 * REACH + 4, Math.round(Math.sqrt((width * height) / 600)));
  const blurs: number[] = [];
  for (let top = REACH + 1; top + tile < height - REACH; top += tile) {
    for (let left = REACH + 1; left + tile < width - REACH; left += tile) {
      let best = 0;
      let atX = -1;
      let atY = -1;
      let across = false;
      const stride = Math.max(2, tile >> 5);
      for (let y = top; y < top + tile; y += stride) {
        for (let x = left; x < left + tile; x += stride) {
          const gx = Math.abs(at(sampler, x + 2, y) - at(sampler, x - 2, y));
          const gy = Math.abs(at(sampler, x, y + 2) - at(sampler, x, y - 2));
          if (gx > best || gy > best) {
            best = Math.max(gx, gy);
            atX = x;
            atY = y;
            across = gx >= gy;
          }
        }
      }
      if (atX < 0 || best < 0.02) continue;
      const blur = blurAt(sampler, atX, atY, across);
      if (blur !== null) blurs.push(blur);
    }
  }
  if (blurs.length < FEWEST) return { blurPx: null, edges: blurs.length };
  blurs.sort((a, b) => a - b);
  return { blurPx: blurs[blurs.length >> 2]!, edges: blurs.length };
}

/** Luminance of one pixel. */
function at({ data, weights, channels, width }: Sampler, x: number, y: number): number {
  const a = (y * width + x) * channels;
  if (channels === 1) return (weights[0] + weights[1] + weights[2]) * data[a]!;
  return weights[0] * data[a]! + weights[1] * data[a + 1]! + weights[2] * data[a + 2]!;
}

/** Blur of one edge: seven neighbouring lines are averaged after each is shifted onto the first by its own middle. */
function blurAt(sampler: Sampler, x: number, y: number, across: boolean): number | null {
  const n = 2 * REACH + 1;
  const line = new Float64Array(n);
  for (let s = -1; s <= 1; s++) {
    for (let k = -REACH; k <= REACH; k++) {
      line[k + REACH]! += (across ? at(sampler, x + k, y + s) : at(sampler, x + s, y + k)) / 3;
    }
  }
  let steep = 0;
  let where = REACH;
  for (let k = 1; k < n - 1; k++) {
    const d = Math.abs(line[k + 1]! - line[k - 1]!) / 2;
    if (d > steep) {
      steep = d;
      where = k;
    }
  }
  const up = Math.sign(line[where + 1]! - line[where - 1]!);
  const high = endOf(line, where, up, 1, steep);
  const low = endOf(line, where, up, -1, steep);
  const rise = Math.abs(high - low);
  if (rise < 0.06) return null;
  // First idea from the steepest slope, then from the share of the rise within h px about half height:
  // 2Φ(h/σ) − 1 for a step blurred by a normal law, far less shaken by noise than one slope.
  const first = rise / (steep * Math.sqrt(2 * Math.PI));
  const h = Math.max(1, Math.round(0.8 * first));
  const half = (high + low) / 2;
  let middle = where;
  for (let k = Math.max(1, where - 3 * h); k < Math.min(n - 1, where + 3 * h); k++) {
    const a = (line[k]! - half) * up;
    const b = (line[k + 1]! - half) * up;
    if (a <= 0 && b > 0) middle = k - a / (b - a);
  }
  if (middle - h < 0 || middle + h > n - 1) return null;
  const share = Math.abs(readLine(line, middle + h) - readLine(line, middle - h)) / rise;
  if (!(share > 0.1 && share < 0.999)) return null;
  const wide = h / normalQuantile((1 + share) / 2);
  // The mean of three lines and reading between px widen the step a little: about a sixth of a px².
  return Math.sqrt(Math.max(0.09, wide * wide - 1 / 6));
}

/** Where a step ends on one side: at the first turn back by more than a little. */
function endOf(line: Float64Array, where: number, up: number, dir: 1 | -1, steep: number): number {
  let top = line[where]! * up * dir;
  for (let k = where + dir; k >= 0 && k < line.length; k += dir) {
    const v = line[k]! * up * dir;
    if (v > top) top = v;
    else if (top - v > 0.15 * steep * 4) break;
  }
  return top * dir * up;
}

function readLine(line: Float64Array, k: number): number {
  const i = Math.min(line.length - 2, Math.floor(k));
  return line[i]! + (k - i) * (line[i + 1]! - line[i]!);
}
