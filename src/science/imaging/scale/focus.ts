/** How blurred a photograph is, from its own sharpest edges. */
import { normalQuantile } from '../../maths/index.ts';
import type { Picture } from '../finding.ts';
import { samplerOf } from './luminance.ts';

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
  const { data, weights, channels } = sampler;
  const second = channels === 3 ? 1 : 0;
  const third = channels === 3 ? 2 : 0;
  const at = (x: number, y: number) => {
    const a = (y * width + x) * channels;
    return weights[0] * data[a]! + weights[1] * data[a + second]! + weights[2] * data[a + third]!;
  };
  const tile = Math.max(2 * REACH + 4, Math.round(Math.sqrt((width * height) / 600)));
  const blurs: number[] = [];
  for (let top = REACH + 1; top + tile < height - REACH; top += tile) {
    for (let left = REACH + 1; left + tile < width - REACH; left += tile) {
      let best = 0;
      let place: readonly [number, number, boolean] | null = null;
      const stride = Math.max(2, tile >> 5);
      for (let y = top; y < top + tile; y += stride) {
        for (let x = left; x < left + tile; x += stride) {
          const gx = Math.abs(at(x + 2, y) - at(x - 2, y));
          const gy = Math.abs(at(x, y + 2) - at(x, y - 2));
          if (gx > best || gy > best) {
            best = Math.max(gx, gy);
            place = [x, y, gx >= gy];
          }
        }
      }
      if (!place || best < 0.02) continue;
      const blur = blurAt(at, ...place);
      if (blur !== null) blurs.push(blur);
    }
  }
  if (blurs.length < FEWEST) return { blurPx: null, edges: blurs.length };
  blurs.sort((a, b) => a - b);
  return { blurPx: blurs[blurs.length >> 2]!, edges: blurs.length };
}

/** Blur of one edge: seven neighbouring lines are averaged after each is shifted onto the first by its own middle. */
function blurAt(at: (x: number, y: number) => number, x: number, y: number, across: boolean): number | null {
  const n = 2 * REACH + 1;
  const line = new Float64Array(n);
  for (let s = -1; s <= 1; s++) {
    for (let k = -REACH; k <= REACH; k++) {
      line[k + REACH]! += (across ? at(x + k, y + s) : at(x + s, y + k)) / 3;
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
  // Walk to where the step ends on each side: the first turn back by more than a little.
  const end = (dir: 1 | -1) => {
    let top = line[where]! * up * dir;
    for (let k = where + dir; k >= 0 && k < n; k += dir) {
      const v = line[k]! * up * dir;
      if (v > top) top = v;
      else if (top - v > 0.15 * steep * 4) break;
    }
    return top * dir * up;
  };
  const high = end(1);
  const low = end(-1);
  const rise = Math.abs(high - low);
  if (rise < 0.06) return null;
  // First idea from the steepest slope, then from the share of the rise within h px about half height:
  // 2Φ(h/σ) − 1 for a step blurred by a normal law, far less shaken by noise than one slope.
  const first = rise / (steep * Math.sqrt(2 * Math.PI));
  const h = Math.max(1, Math.round(0.8 * first));
  const half = (high + low) / 2;
  let middle = where;
  for (let k = Math.max(1, where - 3 * h); k < Math.min(n - 1, where + 3 * h); k++) {
    const [a, b] = [(line[k]! - half) * up, (line[k + 1]! - half) * up];
    if (a <= 0 && b > 0) middle = k - a / (b - a);
  }
  if (middle - h < 0 || middle + h > n - 1) return null;
  const read = (k: number) => {
    const i = Math.min(n - 2, Math.floor(k));
    return line[i]! + (k - i) * (line[i + 1]! - line[i]!);
  };
  const share = Math.abs(read(middle + h) - read(middle - h)) / rise;
  if (!(share > 0.1 && share < 0.999)) return null;
  const wide = h / normalQuantile((1 + share) / 2);
  // The mean of three lines and reading between px widen the step a little: about a sixth of a px².
  return Math.sqrt(Math.max(0.09, wide * wide - 1 / 6));
}
