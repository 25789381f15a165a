/** The print in words and numbers: for the model of the background, and for people. */
import type { Picture } from '../finding.ts';
import type { Fit } from './fit.ts';
import { type LatticeMap, mapToGrid, type Print, type PrintedLine } from './lattice.ts';
import type { Sighted } from './sight.ts';

/** Mean colour of the ink against the membrane beside it, from the pieces that show the print. */
export function describePrint(picture: Picture, sighted: Sighted, map: LatticeMap): Print {
  const { ink } = sighted;
  const n = ink.course.length;
  const sums = [0, 0, 0];
  let count = 0;
  const beside = 1.6 * ink.widthPx + 2;
  for (const s of sighted.pieces) {
    if (!s.inked) continue;
    const upright = s.piece.runs === 'column';
    const [gx, gy] = [upright ? s.piece.perPx : 0, upright ? 0 : s.piece.perPx];
    const read = (offset: number, c: number) => {
      const x = Math.round(s.piece.x + offset * gx - 0.5);
      const y = Math.round(s.piece.y + offset * gy - 0.5);
      if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) return null;
      return picture.data[(y * picture.width + x) * picture.channels + Math.min(c, picture.channels - 1)]!;
    };
    for (let c = 0; c < 3; c++) {
      const on = read(s.offsetPx, c);
      const a = read(s.offsetPx - beside, c);
      const b = read(s.offsetPx + beside, c);
      if (on === null || a === null || b === null) continue;
      sums[c]! += on - (a + b) / 2;
      if (c === 0) count++;
    }
  }
  const unit = count > 0 ? 1 / (count * picture.full) : 0;
  void map;
  return {
    widthPx: ink.widthPx,
    contrast: ink.depth,
    contrastRgb: [sums[0]! * unit, sums[1]! * unit, sums[2]! * unit],
    profile: Array.from({ length: n }, (_, i) => ink.course[i]!),
    profileStep: ink.spacing,
  };
}

/** Each line by number (in the numbering of `numbered`), how much of it was seen and where its ink lies. */
export function printedLines(
  sighted: Sighted,
  traced: LatticeMap,
  numbered: LatticeMap,
  fit: Fit,
): PrintedLine[] {
  const x = numbered.centre[0];
  const y = numbered.centre[1];
  const a = mapToGrid(traced, x, y);
  const b = mapToGrid(numbered, x, y);
  const shift = { column: Math.round(b[0] - a[0]), row: Math.round(b[1] - a[1]) };
  const lines = new Map<
    string,
    { runs: 'column' | 'row'; index: number; all: number; seen: number[]; off: number[] }
  >();
  let at = 0;
  for (const s of sighted.pieces) {
    const key = `${s.piece.runs} ${s.piece.index}`;
    const line = lines.get(key) ?? {
      runs: s.piece.runs,
      index: s.piece.index + shift[s.piece.runs],
      all: 0,
      seen: [],
      off: [],
    };
    line.all++;
    if (s.inked) {
      const trusted = fit.weights[at++]! > 0;
      if (trusted) {
        line.seen.push(s.strength);
        line.off.push(s.offsetPx);
      }
    }
    lines.set(key, line);
  }
  const middle = (v: number[]) => [...v].sort((p, q) => p - q)[v.length >> 1] ?? 0;
  return [...lines.values()].map((l) => ({
    runs: l.runs,
    index: l.index,
    seen: l.seen.length / l.all,
    widthPx: sighted.ink.widthPx,
    contrast: sighted.ink.depth * (l.seen.length > 0 ? middle(l.seen) : 0),
    offsetPx: middle(l.off),
  }));
}
