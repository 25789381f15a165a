/**
 * Colour of a piece in CIELAB with the membrane as white, and its name from the short list.
 * CIELAB: CIE 15 (D65, 2° observer); sRGB decoding and primaries: IEC 61966-2-1.
 */
import type { Colour } from './finding.ts';

export type Lab = readonly [L: number, a: number, b: number];

/** sRGB code (0…1) to linear light. Source: IEC 61966-2-1. */
export function linear(code: number): number {
  const v = Math.max(0, code);
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

const cubeRoot = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 / 116) * t + 16 / 116);

/** Linear R, G, B relative to white (1, 1, 1) to CIELAB of D65. */
export function labOf(r: number, g: number, b: number): Lab {
  const x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047;
  const y = 0.2126729 * r + 0.7151522 * g + 0.072175 * b;
  const z = (0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883;
  const fx = cubeRoot(x);
  const fy = cubeRoot(y);
  const fz = cubeRoot(z);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** CIELAB of a colour under the photograph's light: both given as sRGB codes 0…1, the membrane standing for white. */
export function labAgainst(
  colour: readonly [number, number, number],
  white: readonly [number, number, number],
): Lab {
  const part = (i: 0 | 1 | 2) => linear(colour[i]) / Math.max(1e-4, linear(white[i]));
  return labOf(part(0), part(1), part(2));
}

/** Below this chroma a piece is called by its lightness alone. Common practice, no source. */
const NEUTRAL = 11;

/**
 * Name of a CIELAB colour. Hue ranges are those in which people agree on basic colour words (after the focal colours of
 * Berlin and Kay's eleven terms; the limits are a project choice).
 */
export function nameColour([L, a, b]: Lab, seeThrough = false): Colour {
  const chroma = Math.hypot(a, b);
  // Very dark pieces carry little chroma even when coloured; very light ones show tints by noise.
  const neutral = L < 30 ? NEUTRAL * 0.75 : NEUTRAL;
  if (chroma < neutral) {
    if (seeThrough) return 'clear';
    if (L >= 86) return 'white';
    if (L >= 36) return 'grey';
    return 'black';
  }
  const hue = ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
  if (hue < 28 || hue >= 338) {
    if (L > 62) return 'pink';
    return hue >= 338 && L > 55 ? 'pink' : 'red';
  }
  if (hue < 45)
    return L > 72
      ? chroma > 45
        ? 'orange'
        : 'pink'
      : L < 42 && chroma < 42
        ? 'brown'
        : chroma < 35 && L < 62
          ? 'brown'
          : hue < 41 && L < 60
            ? 'red'
            : 'orange';
  if (hue < 75) return L < 58 || (chroma < 32 && L < 75) ? 'brown' : 'orange';
  if (hue < 108) return L < 48 ? 'brown' : 'yellow';
  if (hue < 200) return 'green';
  if (hue < 292) return hue < 215 && L > 30 && chroma < 25 ? 'green' : 'blue';
  if (hue < 322) return b < -45 && a < 40 && hue < 300 ? 'blue' : 'purple';
  return L > 60 ? 'pink' : 'purple';
}
