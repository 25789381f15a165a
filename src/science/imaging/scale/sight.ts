/** From a supposed lattice to sightings of its ink, and how much more is seen on the lines than between them. */
import type { Sighting } from './fit.ts';
import { type InkProfile, inkProfile, matchInk, type Stamp, stampOf, tailProfile } from './ink.ts';
import { type LatticeMap, mapGain, mapToGrid } from './lattice.ts';
import { type Piece, type Sampler, type TraceWish, tracePieces } from './trace.ts';

export interface SeenPiece {
  readonly piece: Piece;
  readonly offsetPx: number;
  readonly strength: number;
  /** The course across is that of the print. */
  readonly inked: boolean;
}

export interface Sighted {
  readonly ink: InkProfile;
  readonly pieces: readonly SeenPiece[];
  readonly sightings: readonly Sighting[];
  /** Share of pieces that show the print: on the lines, and most between them (midway or at a third). */
  readonly onLines: number;
  readonly between: number;
  /** The same for the direction that shows more between its lines. */
  readonly betweenOneWay: number;
  /** Length of one piece along its line, px. */
  readonly lengthPx: number;
}

/** Pieces a pitch; fewer and longer ones average more where the print is faint. */
export const PER_PITCH = 12;
export const FAINT_PER_PITCH = 4;

/** A piece shows the print when its course is alike and its depth is of the same order (project choice). */
const ALIKE = 0.6;
const STRENGTH = [0.35, 2.6] as const;

const isInk = (m: { likeness: number; strength: number }) =>
  m.likeness >= ALIKE && m.strength >= STRENGTH[0] && m.strength <= STRENGTH[1];

/** Pieces that cross a line of the other direction show less; they are left out. */
function clearOfCrossings(
  pieces: readonly Piece[],
  map: LatticeMap,
  pitchPx: number,
  length: number,
  ink: number,
) {
  const near = Math.min(0.2, (0.5 * length + 0.7 * ink) / pitchPx);
  return pieces.filter((p) => {
    const along = mapToGrid(map, p.x, p.y)[p.runs === 'column' ? 1 : 0]!;
    return Math.abs(along - Math.round(along)) >= near;
  });
}

function match(
  pieces: readonly Piece[],
  stamp: Stamp,
  around: (p: Piece) => number,
  search: number,
): SeenPiece[] {
  const out: SeenPiece[] = [];
  for (const piece of pieces) {
    const m = matchInk(piece, stamp, search + Math.abs(around(piece)));
    if (!m || Math.abs(m.offsetPx - around(piece)) > search) {
      out.push({ piece, offsetPx: 0, strength: 0, inked: false });
      continue;
    }
    out.push({ piece, offsetPx: m.offsetPx, strength: m.strength, inked: isInk(m) });
  }
  return out;
}

const share = (seen: readonly SeenPiece[]) => seen.filter((s) => s.inked).length / Math.max(1, seen.length);

function sightingOf(s: SeenPiece): Sighting {
  const move = s.offsetPx * s.piece.perPx;
  return s.piece.runs === 'column'
    ? { x: s.piece.x + move, y: s.piece.y, runs: 'column', index: s.piece.index }
    : { x: s.piece.x, y: s.piece.y + move, runs: 'row', index: s.piece.index };
}

/** The print's course from the pieces, then once more from those that show it. */
function settledInk(pieces: readonly Piece[], spacing: number, search: number): InkProfile | null {
  const first = inkProfile(pieces, spacing);
  for (const idea of [first, tailProfile(pieces, spacing)]) {
    if (!idea) continue;
    const seen = match(pieces, stampOf(idea), () => idea.offsetPx, search);
    const inked = seen.filter((s) => s.inked).map((s) => s.piece);
    // The mean over all pieces may be of anything when few are inked; then the tail is asked.
    if (inked.length >= Math.max(6, 0.15 * pieces.length)) return inkProfile(inked, spacing) ?? idea;
  }
  return first;
}

/**
 * Looks wide on a reduced picture: each direction finds its own shift, the print its width and whether it is darker or
 * paler. Null where nothing like a line is seen. `compare` looks between the lines as well.
 */
export function sightWide(
  sampler: Sampler,
  map: LatticeMap,
  compare: boolean,
  perPitch = PER_PITCH,
): Sighted | null {
  const pitchPx = 1 / mapGain(map, (sampler.width * sampler.step) / 2, (sampler.height * sampler.step) / 2);
  const reach = 0.3 * pitchPx;
  const wish: TraceWish = {
    reach,
    spacing: Math.max(sampler.step * 0.5, reach / 24),
    length: Math.max(3 * sampler.step, pitchPx / perPitch),
    reads: perPitch < PER_PITCH ? 20 : 7,
    margin: 0.06 * pitchPx,
  };
  const all = clearOfCrossings(tracePieces(sampler, map, wish), map, pitchPx, wish.length, 0.03 * pitchPx);
  const byRun = { column: all.filter((p) => p.runs === 'column'), row: all.filter((p) => p.runs === 'row') };
  const search = 0.14 * pitchPx;
  const column = settledInk(byRun.column, wish.spacing, search);
  const row = settledInk(byRun.row, wish.spacing, search);
  if (!column || !row || column.depth * row.depth <= 0) return null;
  const ink = Math.abs(column.depth) > Math.abs(row.depth) ? column : row;
  const seen = [
    ...match(byRun.column, stampOf(column), () => column.offsetPx, search),
    ...match(byRun.row, stampOf(row), () => row.offsetPx, search),
  ];
  const shown = (shift: number) => {
    const traced = tracePieces(sampler, map, { ...wish, shift });
    const clear = clearOfCrossings(traced, map, pitchPx, wish.length, 0.03 * pitchPx);
    const found = match(clear, stampOf(ink), (p) => (p.runs === 'column' ? column : row).offsetPx, search);
    const of = (runs: 'column' | 'row') => share(found.filter((s) => s.piece.runs === runs));
    return { all: share(found), worst: Math.max(of('column'), of('row')) };
  };
  const gaps = compare ? [shown(0.5), shown(1 / 3)] : [];
  return {
    ink,
    pieces: seen,
    sightings: seen.filter((s) => s.inked).map(sightingOf),
    onLines: share(seen),
    between: Math.max(0, ...gaps.map((g) => g.all)),
    betweenOneWay: Math.max(0, ...gaps.map((g) => g.worst)),
    lengthPx: wish.length,
  };
}

/** Looks closely at the full picture, once the lattice is known to a few px. */
export function sightClose(
  sampler: Sampler,
  map: LatticeMap,
  widthPx: number,
  slackPx: number,
  perPitch = PER_PITCH,
): Sighted | null {
  const pitchPx = 1 / mapGain(map, (sampler.width * sampler.step) / 2, (sampler.height * sampler.step) / 2);
  const spacing = Math.max(0.5, widthPx / 12);
  const search = Math.max(0.5 * widthPx, slackPx, 2);
  const wish: TraceWish = {
    reach: Math.min(0.4 * pitchPx, 1.3 * widthPx + 3 * spacing + search),
    spacing,
    length: perPitch < PER_PITCH ? pitchPx / perPitch : Math.min(90, Math.max(6, pitchPx / perPitch)),
    reads: perPitch < PER_PITCH ? 60 : 14,
    margin: 0.75 * widthPx + 2,
  };
  const pieces = clearOfCrossings(tracePieces(sampler, map, wish), map, pitchPx, wish.length, widthPx);
  const ink = settledInk(pieces, spacing, search);
  if (!ink) return null;
  const seen = match(pieces, stampOf(ink), () => 0, search);
  return {
    ink,
    pieces: seen,
    sightings: seen.filter((s) => s.inked).map(sightingOf),
    onLines: share(seen),
    between: 0,
    betweenOneWay: 0,
    lengthPx: wish.length,
  };
}
