/** How much of each pixel a closed outline covers. */
import type { Point } from './finding.ts';
import { takeFloats } from './kernels/room.ts';

/** Lines a pixel row is read on; along each the covered length is exact. */
const LINES = 5;

/** As `coverOfLine`, of points. */
export function coverOf(
  outline: readonly Point[],
  x0: number,
  y0: number,
  width: number,
  height: number,
): Float32Array {
  const line = new Float64Array(2 * outline.length);
  for (let i = 0; i < outline.length; i++) [line[2 * i], line[2 * i + 1]] = outline[i]!;
  return coverOfLine(line, x0, y0, width, height);
}

/** Shares 0…1 over a window whose first pixel spans (x0, y0) to (x0 + 1, y0 + 1); even–odd. `line` holds x and y by turns. */
export function coverOfLine(
  line: Float64Array,
  x0: number,
  y0: number,
  width: number,
  height: number,
): Float32Array {
  const out = takeFloats(width * height).fill(0);
  const n = line.length >> 1;
  const lines = height * LINES;
  /** Where the crossings of each line begin; while they are filled in, where its next one goes. */
  const start = new Int32Array(lines + 2);
  const firstLine = (y: number): number => Math.max(0, Math.min(lines, Math.ceil((y - y0) * LINES - 0.5)));
  for (let i = 0; i < n; i++) {
    const p = firstLine(line[2 * i + 1]!);
    const q = firstLine(line[i + 1 === n ? 1 : 2 * i + 3]!);
    for (let k = Math.min(p, q); k < Math.max(p, q); k++) start[k + 2]!++;
  }
  for (let k = 2; k < start.length; k++) start[k]! += start[k - 1]!;
  const crossings = new Float64Array(start[lines + 1]!);
  for (let i = 0; i < n; i++) {
    const to = i + 1 === n ? 0 : 2 * i + 2;
    const ax = line[2 * i]!;
    const ay = line[2 * i + 1]!;
    const bx = line[to]!;
    const by = line[to + 1]!;
    const p = firstLine(ay);
    const q = firstLine(by);
    for (let k = Math.min(p, q); k < Math.max(p, q); k++) {
      const y = y0 + (k + 0.5) / LINES;
      crossings[start[k + 1]!++] = ax + ((y - ay) / (by - ay)) * (bx - ax) - x0;
    }
  }
  /** Lines that cover a whole pixel, from this pixel on more than before. */
  const more = new Int32Array(width + 1);
  for (let y = 0; y < height; y++) {
    if (start[y * LINES] === start[(y + 1) * LINES]) continue;
    const row = y * width;
    let low = width;
    let high = 0;
    for (let k = y * LINES; k < (y + 1) * LINES; k++) {
      const [from, to] = [start[k]!, start[k + 1]!];
      sortPart(crossings, from, to);
      for (let i = from; i + 1 < to; i += 2) {
        const a = Math.max(0, crossings[i]!);
        const b = Math.min(width, crossings[i + 1]!);
        if (!(b > a)) continue;
        const first = Math.ceil(a);
        const last = Math.floor(b);
        if (first > a) out[row + first - 1]! += (Math.min(b, first) - a) / LINES;
        if (last < b && last >= first) out[row + last]! += (b - last) / LINES;
        if (last <= first) continue;
        more[first]!++;
        more[last]!--;
        low = Math.min(low, first);
        high = Math.max(high, last);
      }
    }
    let covering = 0;
    for (let x = low; x < high; x++) {
      covering += more[x]!;
      more[x] = 0;
      if (covering) out[row + x]! += covering / LINES;
    }
    if (high > low) more[high] = 0;
  }
  return out;
}

/** Sorts the few crossings of one line. */
function sortPart(values: Float64Array, from: number, to: number): void {
  for (let i = from + 1; i < to; i++) {
    const v = values[i]!;
    let k = i;
    for (; k > from && values[k - 1]! > v; k--) values[k] = values[k - 1]!;
    values[k] = v;
  }
}
