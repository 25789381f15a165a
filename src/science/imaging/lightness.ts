/**
 * A photograph against its own membrane: each channel divided by the membrane's, so that light, vignetting and colour
 * cast are gone, then lightness (0 is the membrane, −1 black) and two opponent channels (0 is the membrane's hue).
 * The quotient of sRGB-coded values is used: a factor of light stays a factor under a power law, and the coding keeps
 * noise nearly even.
 */

import type { Picture } from './finding.ts';
import { roomOf, takeBytes, takeFloats } from './kernels/room.ts';
import { BESIDE, type PrintModel, zoneRow } from './print-model.ts';
import { PRINT } from './reduced-use.ts';
import { fieldRow, type TileField } from './tile-field.ts';

/** Weights of red, green and blue in lightness, near those of luminance with less of blue's noise. */
export const WEIGHTS = [0.3, 0.55, 0.15] as const;

export function opponent(
  r: number,
  g: number,
  b: number,
): [lightness: number, redGreen: number, blueYellow: number] {
  return [WEIGHTS[0] * r + WEIGHTS[1] * g + WEIGHTS[2] * b - 1, r - g, b - 0.5 * (r + g)];
}

/** Rows of a photograph that are at hand. */
export interface PhotoRows {
  readonly picture: Picture;
  /** Row of the photograph that is row 0 of `picture`. */
  readonly top: number;
  /** Column of the photograph that is column 0 of `picture`; 0 where not said. */
  readonly left?: number;
}

export interface OpponentPlanes {
  readonly width: number;
  readonly height: number;
  readonly lightness: Float32Array;
  /** Empty for a grey picture. */
  readonly redGreen: Float32Array;
  readonly blueYellow: Float32Array;
  /** 1 where a printed line may lie. */
  readonly zone: Uint8Array;
}

/** Compression spreads the colour of a line this far beyond its rim, px: one block of colour at half resolution. */
const BLEED = 17;

/** How far the ink's hue may lag behind its depth, as a part of the whole: cameras and compression blur hue more. */
const HUE_LAG = 0.55;

/** The ink as lightness and opponent colours, worked out once for many pixels. */
export interface Ink {
  readonly rgb: PrintModel['ink'];
  readonly deepest: number;
  readonly lightness: number;
  readonly redGreen: number;
  readonly blueYellow: number;
  /** Squared length, of the whole and of its hue. */
  readonly size: number;
  readonly hue: number;
}

export function inkOf(print: PrintModel): Ink {
  const [i, j, k] = print.ink;
  const [lightness, redGreen, blueYellow] = opponent(1 + i, 1 + j, 1 + k);
  return {
    rgb: print.ink,
    deepest: print.deepest,
    lightness,
    redGreen,
    blueYellow,
    size: i * i + j * j + k * k,
    hue: redGreen * redGreen + blueYellow * blueYellow,
  };
}

/** As `offPrint`, into `out`: millions of pixels lie in the print's zone, and none should cost memory. */
export function takeOffInk(ink: Ink, r: number, g: number, b: number, out: Float64Array): void {
  const l = WEIGHTS[0] * r + WEIGHTS[1] * g + WEIGHTS[2] * b - 1;
  const a = r - g;
  const v = b - 0.5 * (r + g);
  const along =
    Math.abs(ink.lightness) > 0.02
      ? l / ink.lightness
      : ((r - 1) * ink.rgb[0] + (g - 1) * ink.rgb[1] + (b - 1) * ink.rgb[2]) / ink.size;
  const explained = Math.max(0, Math.min(ink.deepest, along));
  let t = 0;
  if (ink.hue > 1e-6) {
    const share = (a * ink.redGreen + v * ink.blueYellow) / ink.hue;
    const low = Math.max(-0.15, explained - HUE_LAG);
    const high = Math.min(1.2 * ink.deepest, explained + HUE_LAG);
    t = Math.max(low, Math.min(high, share));
  }
  out[0] = l - explained * ink.lightness;
  out[1] = a - t * ink.redGreen;
  out[2] = v - t * ink.blueYellow;
}

/**
 * What the print does not explain of a pixel, as lightness and opponent colours: beyond any depth of ink, and off the
 * ink's hue or further along it than that depth allows.
 */
export function offPrint(print: PrintModel, r: number, g: number, b: number): [number, number, number] {
  const out = new Float64Array(3);
  takeOffInk(inkOf(print), r, g, b, out);
  return [out[0]!, out[1]!, out[2]!];
}

/**
 * Planes of the rectangle from (x0, y0); beyond the photograph its border is repeated.
 * With `ease` the pixels of the print's zone hold only what the print does not explain, divided by how much more the
 * zone varies (lightness, colour): then one noise serves both. Null leaves the print in.
 */
export function opponentPlanes(
  rows: PhotoRows,
  background: readonly TileField[],
  print: PrintModel | null,
  x0: number,
  y0: number,
  width: number,
  height: number,
  ease: readonly [lightness: number, colour: number] | null,
): OpponentPlanes {
  const { picture } = rows;
  const { channels, data } = picture;
  const n = width * height;
  const lightness = takeFloats(n);
  const colour = channels === 3 ? n : 0;
  const redGreen = takeFloats(colour);
  const blueYellow = takeFloats(colour);
  const zone = takeBytes(print ? n : 0).fill(0);
  const zoned = new Uint8Array((width + 3) & ~3);
  // Most of a row lies off the print: passed over four at a time.
  const fours = new Int32Array(zoned.buffer);
  const back = background.map(() => takeFloats(width));
  const compiled = byteRows(picture, width, [lightness, redGreen, blueYellow], back);
  const edge = rows.left ?? 0;
  const left = Math.max(0, edge - x0);
  const right = Math.min(width, edge + picture.width - x0);
  const [wr, wg, wb] = WEIGHTS;
  const ink = print && inkOf(print);
  const off = new Float64Array(3);
  const [ir, ig, ib] = print ? print.ink : [0, 0, 0];
  const inkA = ir - ig;
  const inkB = ib - 0.5 * (ir + ig);
  const inkHue = inkA * inkA + inkB * inkB;
  for (let y = 0; y < height; y++) {
    const py = Math.min(rows.top + picture.height - 1, Math.max(rows.top, y0 + y));
    const o = y * width;
    let i = ((py - rows.top) * picture.width + x0 - edge + left) * channels;
    for (let c = 0; c < channels; c++) {
      const line = back[c]!;
      fieldRow(background[c]!, py, x0 + left, 1, right - left, line);
      if (!compiled) for (let x = 0; x < right - left; x++) line[x] = 1 / (line[x]! * picture.full);
    }
    if (compiled) compiled(i, right - left, o + left);
    else if (channels === 3) {
      const [br, bg, bb] = back as [Float32Array, Float32Array, Float32Array];
      for (let x = left, k = 0; x < right; x++, k++, i += 3) {
        const r = data[i]! * br[k]!;
        const g = data[i + 1]! * bg[k]!;
        const b = data[i + 2]! * bb[k]!;
        lightness[o + x] = wr * r + wg * g + wb * b - 1;
        redGreen[o + x] = r - g;
        blueYellow[o + x] = b - 0.5 * (r + g);
      }
    } else {
      const only = back[0]!;
      for (let x = left, k = 0; x < right; x++, k++, i++) lightness[o + x] = data[i]! * only[k]! - 1;
    }
    const reach = ease && colour && inkHue > 1e-6 ? BLEED : 0;
    const across = right - left;
    if (
      print &&
      across > 0 &&
      zoneRow(print.lattice, print.halfZone, py, x0 + left, 1, across, zoned, reach)
    ) {
      for (let k = 0; k < across; k++) {
        if ((k & 3) === 0 && fours[k >> 2] === 0) {
          k += 3;
          continue;
        }
        if (!zoned[k]) continue;
        const at = o + left + k;
        if (zoned[k] === BESIDE) {
          const t = (redGreen[at]! * inkA + blueYellow[at]! * inkB) / inkHue;
          const bled = Math.max(-0.35, Math.min(1, t));
          redGreen[at]! -= bled * inkA;
          blueYellow[at]! -= bled * inkB;
          continue;
        }
        zone[at] = PRINT;
        if (!ease) continue;
        const [el, ec] = ease;
        if (channels === 3) {
          const j = ((py - rows.top) * picture.width + x0 - edge + left + k) * 3;
          const [br, bg, bb] = back as [Float32Array, Float32Array, Float32Array];
          takeOffInk(ink!, data[j]! * br[k]!, data[j + 1]! * bg[k]!, data[j + 2]! * bb[k]!, off);
          lightness[at] = off[0]! / el;
          redGreen[at] = off[1]! / ec;
          blueYellow[at] = off[2]! / ec;
        } else {
          const v = lightness[at]! + 1;
          takeOffInk(ink!, v, v, v, off);
          lightness[at] = off[0]! / el;
        }
      }
    }
    for (const p of colour ? [lightness, redGreen, blueYellow] : [lightness]) {
      for (let x = 0; x < left; x++) p[o + x] = p[o + left]!;
      for (let x = right; x < width; x++) p[o + x] = p[o + right - 1]!;
    }
  }
  return { width, height, lightness, redGreen, blueYellow, zone };
}

/**
 * The kernel for rows of three bytes: takes where a row starts in the photograph, its pixels, and where it goes in the
 * planes; `back` holds the membrane and is turned into its inverse. Null where the plain loop must do.
 */
function byteRows(
  picture: Picture,
  width: number,
  planes: readonly [Float32Array, Float32Array, Float32Array],
  back: readonly Float32Array[],
): ((from: number, n: number, to: number) => void) | null {
  const { data, channels, full } = picture;
  if (channels !== 3 || !(data instanceof Uint8Array)) return null;
  const held = takeBytes(3 * width);
  const room = roomOf(held, ...planes, ...back);
  if (!room) return null;
  const [l, a, b] = planes.map((p) => p.byteOffset) as [number, number, number];
  const [r0, g0, b0] = back.map((p) => p.byteOffset) as [number, number, number];
  const [wr, wg, wb] = WEIGHTS;
  return (from, n, to) => {
    if (n <= 0) return;
    held.set(data.subarray(from, from + 3 * n));
    for (const line of [r0, g0, b0]) room.kernels.inverse(line, n, full, 1);
    const o = 4 * to;
    room.kernels.opponentBytes(held.byteOffset, r0, g0, b0, n, l + o, a + o, b + o, wr, wg, wb);
  };
}

/** Lightness alone of a rectangle that lies within the photograph, the print left in. */
export function lightnessAlone(
  rows: PhotoRows,
  background: readonly TileField[],
  x0: number,
  y0: number,
  width: number,
  height: number,
): Float32Array {
  const { picture } = rows;
  const { channels, data } = picture;
  const out = takeFloats(width * height);
  const back = background.map(() => takeFloats(width));
  const held = takeBytes(data instanceof Uint8Array ? channels * width : 0);
  const room = held.length > 0 && channels === 3 ? roomOf(out, held, ...back) : null;
  for (let y = 0; y < height; y++) {
    const o = y * width;
    let i = ((y0 + y - rows.top) * picture.width + x0 - (rows.left ?? 0)) * channels;
    for (let c = 0; c < channels; c++) {
      const line = back[c]!;
      fieldRow(background[c]!, y0 + y, x0, 1, width, line);
      const weight = channels === 3 ? WEIGHTS[c]! : 1;
      if (room) room.kernels.inverse(line.byteOffset, width, picture.full, weight);
      else for (let x = 0; x < width; x++) line[x] = weight / (line[x]! * picture.full);
    }
    const [r, g, b] = back as [Float32Array, Float32Array, Float32Array];
    if (room) {
      held.set(data.subarray(i, i + 3 * width));
      const [ro, go, bo] = [r.byteOffset, g.byteOffset, b.byteOffset];
      room.kernels.lightnessBytes(held.byteOffset, ro, go, bo, width, out.byteOffset + 4 * o);
    } else if (channels === 3) {
      for (let x = 0; x < width; x++, i += 3)
        out[o + x] = data[i]! * r[x]! + data[i + 1]! * g[x]! + data[i + 2]! * b[x]! - 1;
    } else for (let x = 0; x < width; x++, i++) out[o + x] = data[i]! * r[x]! - 1;
  }
  return out;
}
