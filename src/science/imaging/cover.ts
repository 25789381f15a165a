/** How much of each pixel a closed outline covers. */
import type { Point } from './finding.ts';

/** Lines a pixel row is read on; along each the covered length is exact. */
const LINES = 5;

/** Shares 0…1 over a window whose first pixel spans (x0, y0) to (x0 + 1, y0 + 1); even–odd. */
export function coverOf(
  outline: readonly Point[],
  x0: number,
  y0: number,
  width: number,
  height: number,
): Float32Array {
  const out = new Float32Array(width * height);
  const crossings: number[][] = Array.from({ length: height * LINES }, () => []);
  const n = outline.length;
  for (let i = 0; i < n; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[i + 1 === n ? 0 : i + 1]!;
    const from = Math.ceil((Math.min(ay, by) - y0) * LINES - 0.5);
    const to = Math.ceil((Math.max(ay, by) - y0) * LINES - 0.5);
    for (let k = Math.max(0, from); k < Math.min(to, height * LINES); k++) {
      const y = y0 + (k + 0.5) / LINES;
      crossings[k]!.push(ax + ((y - ay) / (by - ay)) * (bx - ax) - x0);
    }
  }
  for (let k = 0; k < crossings.length; k++) {
    const at = crossings[k]!.sort((p, q) => p - q);
    const row = Math.floor(k / LINES) * width;
    for (let i = 0; i + 1 < at.length; i += 2) {
      const a = Math.max(0, at[i]!);
      const b = Math.min(width, at[i + 1]!);
      for (let x = Math.floor(a); x < b; x++) {
        out[row + x] = out[row + x]! + (Math.min(b, x + 1) - Math.max(a, x)) / LINES;
      }
    }
  }
  return out;
}
