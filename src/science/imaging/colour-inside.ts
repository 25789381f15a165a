/** Colour of a piece that a person drew, against the membrane around it. */
import { type Lab, labAgainst } from './colour-name.ts';
import type { Picture, Point } from './finding.ts';
import { insideLine } from './outline.ts';

const middle = (values: number[]): number => {
  values.sort((a, b) => a - b);
  return values[values.length >> 1]!;
};

/**
 * CIELAB (D65) inside an outline with the membrane of the same cut-out standing for white: medians of each channel, inside
 * and outside the outline. `outline` is in pixels of the cut-out. Null when the outline holds no pixel's middle or leaves
 * none outside.
 * Deceives when: print or neighbours fill more than half of what lies outside.
 */
export function colourInside(picture: Picture, outline: readonly Point[]): Lab | null {
  const { width, height, channels, data, full } = picture;
  const inside: number[][] = [[], [], []];
  const outside: number[][] = [[], [], []];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const into = insideLine(outline, x + 0.5, y + 0.5) ? inside : outside;
      const at = (y * width + x) * channels;
      for (let c = 0; c < 3; c++) into[c]!.push(data[at + (channels === 3 ? c : 0)]! / full);
    }
  }
  if (inside[0]!.length === 0 || outside[0]!.length === 0) return null;
  const codes = (part: number[][]) => part.map(middle) as [number, number, number];
  return labAgainst(codes(inside), codes(outside));
}
