/** The classical method: from a photograph and a wish to a finding. */
import { fraction, umPerPx } from '../../units/index.ts';
import { chanceReal } from './chance-real.ts';
import type { Finder, Finding, FindWish, Particle, Picture } from './finding.ts';
import { healAcrossPrint } from './heal-print.ts';
import { joinFibres } from './join-fibres.ts';
import { joinTouching } from './join-touching.ts';
import type { PhotoRows } from './lightness.ts';
import { withNeighbours } from './neighbours.ts';
import { haloPieces, isRim, isScratch, isSoft, isTint, ringPieces } from './not-particles.ts';
import { particleFrom } from './particle.ts';
import type { Piece } from './piece.ts';
import { type Prepared, prepare } from './prepare.ts';
import { groupRuns, type Region } from './regions.ts';
import { insideFilter } from './scale/edge.ts';
import { segmentRegion } from './segment.ts';
import { searchTile, TILE } from './significance.ts';
import { survey } from './survey.ts';
import { UnderPrint } from './under-print.ts';

export const METHOD = 'classical';
export const VERSION = '4';

/** Pieces of regions whose rows are at hand, in order. */
export function piecesOf(regions: readonly Region[], rows: PhotoRows, prepared: Prepared): Piece[] {
  const { membrane, thresholds } = prepared;
  if (!membrane) return [];
  return regions.flatMap((region) => segmentRegion(region, rows, membrane, thresholds));
}

/** Parts need this share of the chance that a whole piece must reach. */
const DOUBTFUL = 0.5;

/** What is left of all pieces when rings, scratches, stains and what is far too faint are dropped, and broken ones mended. */
export function mendedPieces(pieces: readonly Piece[], prepared: Prepared): Piece[] {
  const { membrane } = prepared;
  if (!membrane) return [];
  const halo = haloPieces(pieces);
  const { edge, print } = membrane;
  const rim = (p: Piece) => edge !== null && !edge.everywhere && isRim(p, (x, y) => insideFilter(edge, x, y));
  const sharp = pieces.filter((p, i) => !halo.has(i) && !isSoft(p) && !isTint(p) && !isScratch(p) && !rim(p));
  const rings = ringPieces(sharp);
  const hidden = new UnderPrint(print);
  const breadth = print ? 2 * print.halfZone : 0;
  // Parts of a piece may be doubtful alone where the whole is not.
  const least = DOUBTFUL * prepared.thresholds.piece;
  const kept = sharp.filter((p, i) => !rings.has(i) && chanceReal(p) >= least);
  return joinFibres(healAcrossPrint(kept, hidden, breadth), hidden, breadth);
}

/** Mended pieces with parts that touch put together, as far as they are likely enough to be real. */
export function wholePieces(pieces: readonly Piece[], prepared: Prepared): Piece[] {
  const { membrane, thresholds } = prepared;
  if (!membrane) return [];
  const whole = withNeighbours(joinTouching(mendedPieces(pieces, prepared), new UnderPrint(membrane.print)));
  return whole.filter((p) => chanceReal(p) >= thresholds.piece);
}

/** Pieces of the whole photograph to particles. */
export function particlesFrom(pieces: readonly Piece[], prepared: Prepared): Particle[] {
  const { membrane, scale, leastPx } = prepared;
  if (!membrane) return [];
  return wholePieces(pieces, prepared).flatMap((piece) => {
    const particle = particleFrom(piece, membrane, scale && umPerPx(scale.umPerPx));
    return particle && particle.feretMaxPx >= leastPx ? [particle] : [];
  });
}

export function findingFrom(prepared: Prepared, particles: readonly Particle[]): Finding {
  const { scale, membrane, refusal, warnings, searchedFraction, floorPx } = prepared;
  return {
    method: METHOD,
    version: VERSION,
    scale,
    grid: scale?.basis === 'printed-grid' && membrane?.lattice ? membrane.lattice.squares : [],
    refusal,
    warnings,
    particles: particles.toSorted(inReadingOrder),
    searchedFraction: fraction(searchedFraction),
    floorPx,
  };
}

const inReadingOrder = (p: Particle, q: Particle): number =>
  p.centroidPx[1] - q.centroidPx[1] || p.centroidPx[0] - q.centroidPx[0];

/** Particles of a picture in memory, by what was prepared from it. */
export function searchWhole(picture: Picture, prepared: Prepared): Finding {
  const { membrane } = prepared;
  if (!membrane) return findingFrom(prepared, []);
  const rows: PhotoRows = { picture, top: 0 };
  const group = groupRuns();
  const pieces: Piece[] = [];
  for (let y = 0; y < picture.height; y += TILE) {
    const runs = [];
    for (let x = 0; x < picture.width; x += TILE)
      runs.push(searchTile(rows, membrane, x, y, prepared.thresholds));
    pieces.push(...piecesOf(group.add(runs, y + TILE), rows, prepared));
  }
  pieces.push(...piecesOf(group.finish(), rows, prepared));
  return findingFrom(prepared, particlesFrom(pieces, prepared));
}

const find = (picture: Picture, wish: FindWish): Finding =>
  searchWhole(picture, prepare(survey(picture), picture, wish));

/** The classical finder: background and print modelled, significance in local noise, half-height outlines. */
export const classicalFinder: Finder = { method: METHOD, version: VERSION, find };
