/**
 * Outlines on their way from thread to thread. Half a million points as small arrays would be written out and read in one
 * by one, in twice their memory, and come out as arrays that are slow to read; as one block of numbers they are handed over.
 */
import type { Finding, Particle, Piece, Point } from '../science/imaging/index.ts';
import type { Searched } from './search-photo.ts';

/** Lines of points, one after another: x and y by turns. */
type Points = Float64Array<ArrayBuffer>;

function pointsOf(lines: readonly (readonly Point[])[]): Points {
  const points = new Float64Array(2 * lines.reduce((n, line) => n + line.length, 0));
  let at = 0;
  for (const line of lines) {
    for (const point of line) {
      points[at++] = point[0];
      points[at++] = point[1];
    }
  }
  return points;
}

/** Reads lines of so many points out of a block, one after another. */
function linesFrom(points: Points): (count: number) => Point[] {
  let at = 0;
  return (count) => {
    const line: Point[] = [];
    for (let i = 0; i < count; i++, at += 2) line.push([points[at]!, points[at + 1]!]);
    return line;
  };
}

type PackedParticle = Omit<Particle, 'outlinePx'> & { readonly outlinePx: number };

/** The finding with the number of points in place of each outline. */
export interface Parcel {
  readonly searched: Omit<Searched, 'finding'> & {
    readonly finding: Omit<Finding, 'particles'> & { readonly particles: readonly PackedParticle[] };
  };
  readonly points: Points;
}

export function packed({ finding, ...rest }: Searched): Parcel {
  const { particles } = finding;
  const counted = particles.map((p) => ({ ...p, outlinePx: p.outlinePx.length }));
  return {
    searched: { ...rest, finding: { ...finding, particles: counted } },
    points: pointsOf(particles.map((p) => p.outlinePx)),
  };
}

export function unpacked({ searched, points }: Parcel): Searched {
  const next = linesFrom(points);
  const particles = searched.finding.particles.map((p): Particle => ({ ...p, outlinePx: next(p.outlinePx) }));
  return { ...searched, finding: { ...searched.finding, particles } };
}

type PackedPiece = Omit<Piece, 'outline' | 'line'> & {
  readonly outline: number;
  readonly line: number | null;
};

/** The pieces of regions with the number of points in place of each line. */
export interface PieceParcel {
  readonly regions: readonly (readonly PackedPiece[])[];
  readonly points: Points;
}

export function packedPieces(regions: readonly (readonly Piece[])[]): PieceParcel {
  const lines: (readonly Point[])[] = [];
  const counted = regions.map((pieces) =>
    pieces.map((piece): PackedPiece => {
      lines.push(piece.outline, piece.line ?? []);
      return { ...piece, outline: piece.outline.length, line: piece.line?.length ?? null };
    }),
  );
  return { regions: counted, points: pointsOf(lines) };
}

export function unpackedPieces({ regions, points }: PieceParcel): Piece[][] {
  const next = linesFrom(points);
  return regions.map((pieces) =>
    pieces.map((piece): Piece => {
      const outline = next(piece.outline);
      return { ...piece, outline, line: piece.line === null ? null : next(piece.line) };
    }),
  );
}
