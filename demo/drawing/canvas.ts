import type { Cover } from './coverage.ts';

/** Linear light, three numbers a pixel (red, green, blue), 1 is what a perfectly white sheet sends back. */
export interface Canvas {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

export type Rgb = readonly [red: number, green: number, blue: number];

export const blankCanvas = (width: number, height: number): Canvas => ({
  width,
  height,
  light: new Float32Array(width * height * 3),
});

/** sRGB decoding (IEC 61966-2-1), 0 to 1. */
export const linear = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
/** sRGB encoding (IEC 61966-2-1), 0 to 1. */
export const encoded = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);

/** A surface colour from its sRGB bytes. */
export const surface = (red: number, green: number, blue: number): Rgb => [
  linear(red / 255),
  linear(green / 255),
  linear(blue / 255),
];

/**
 * Visits the pixels of a window that lie on the canvas and have a share above 0: `at` indexes the light,
 * `i` the window; x and y are pixels of the canvas.
 */
export function overCover(
  canvas: Canvas,
  cover: Cover,
  visit: (at: number, i: number, share: number, x: number, y: number) => void,
): void {
  const x0 = Math.max(0, -cover.left);
  const x1 = Math.min(cover.width, canvas.width - cover.left);
  const y0 = Math.max(0, -cover.top);
  const y1 = Math.min(cover.height, canvas.height - cover.top);
  for (let y = y0; y < y1; y++) {
    for (let x = x0; x < x1; x++) {
      const i = y * cover.width + x;
      const share = cover.share[i]!;
      if (share > 0.0005) {
        const cx = x + cover.left;
        const cy = y + cover.top;
        visit((cy * canvas.width + cx) * 3, i, share, cx, cy);
      }
    }
  }
}

/** Multiplies the light beneath a window by 1 − strength × share (shadows, ink, stains). */
export function darken(canvas: Canvas, cover: Cover, strength: Rgb): void {
  const [r, g, b] = strength;
  const { light } = canvas;
  overCover(canvas, cover, (at, _i, share) => {
    light[at] = light[at]! * (1 - r * share);
    light[at + 1] = light[at + 1]! * (1 - g * share);
    light[at + 2] = light[at + 2]! * (1 - b * share);
  });
}

/** The same window, moved: a shadow falls beside what casts it. */
export const moved = (cover: Cover, dx: number, dy: number): Cover => ({
  ...cover,
  left: cover.left + Math.round(dx),
  top: cover.top + Math.round(dy),
});
