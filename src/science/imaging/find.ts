/** The classical method: from a photograph and a wish to a finding. */
import { fraction, mm, type Outcome, type Refusal, umPerPx } from '../../units/index.ts';
import { cellMedians } from './background.ts';
import { chanceReal } from './chance-real.ts';
import { coveredShare, coverGate } from './covered.ts';
import { enlargeEdge, enlargeLattice } from './enlarge-lattice.ts';
import type { Finder, Finding, FindWish, Particle, Picture } from './finding.ts';
import { healAcrossPrint } from './heal-print.ts';
import { joinFibres } from './join-fibres.ts';
import { joinTouching } from './join-touching.ts';
import type { PhotoRows } from './lightness.ts';
import { type Membrane, membraneOf } from './membrane.ts';
import { withNeighbours } from './neighbours.ts';
import { haloPieces, isRim, isScratch, isSoft, isTint, ringPieces } from './not-particles.ts';
import { particleFrom } from './particle.ts';
import type { Piece } from './piece.ts';
import { reducedUse, zoneRow } from './print-model.ts';
import { groupRuns, type Region } from './regions.ts';
import { type FilterEdge, insideFilter } from './scale/edge.ts';
import { findFilterEdge } from './scale/find-edge.ts';
import { findLattice } from './scale/find-lattice.ts';
import { type Gates, gatesOf } from './scale/gates.ts';
import type { Lattice } from './scale/lattice.ts';
import { segmentRegion } from './segment.ts';
import { searchTile, TILE } from './significance.ts';
import { type Survey, survey } from './survey.ts';
import { type Thresholds, thresholdsFor } from './thresholds.ts';
import { unevenGate } from './uneven.ts';
import { floorPxOf, scaleOf } from './wished-scale.ts';

export const METHOD = 'classical';
export const VERSION = '4';

/** Above this many pixels the print is looked for on the reduced picture alone. */
export const WHOLE_LIMIT = 32e6;

/** All that one look over the photograph settles before particles are searched for. */
export interface Prepared {
  readonly membrane: Membrane | null;
  readonly scale: Finding['scale'];
  readonly refusal: Refusal | null;
  readonly warnings: readonly Refusal[];
  readonly thresholds: Thresholds;
  readonly floorPx: number;
  /** Smallest measured size that is told: below the optics' own floor by what measuring may miss, so that no piece at it is lost. */
  readonly leastPx: number;
  readonly searchedFraction: number;
}

/** What a picture shows as a whole. */
export interface Overview {
  readonly lattice: Outcome<Lattice>;
  readonly edge: FilterEdge;
  readonly gates: Gates;
}

export function overviewOf(picture: Picture, wish: FindWish): Overview {
  // Without a wish for the print it is still looked for, so that its lines are not taken for fibres.
  const pitch = wish.scale.from === 'printed-grid' ? wish.scale.pitch : mm(1);
  const lattice = findLattice(picture, pitch);
  const found = lattice.ok ? lattice.value : null;
  const edge = findFilterEdge(picture, found);
  return { lattice, edge, gates: gatesOf(picture, found, edge) };
}

/**
 * `picture` may be left out where it is too large to hold; the reduced one serves then. `overview` is that of the picture
 * when it is known already.
 */
export function prepare(
  seen: Survey,
  picture: Picture | null,
  wish: FindWish,
  overview: Overview | null = null,
): Prepared {
  const { width, height } = seen;
  const whole = picture !== null && width * height <= WHOLE_LIMIT;
  const factor = whole ? 1 : seen.factor;
  const { lattice: found, edge, gates } = overview ?? overviewOf(whole ? picture : seen.reduced, wish);
  const lattice: Lattice | null = found.ok ? enlargeLattice(found.value, factor, width, height) : null;
  const { scale, refusal } = scaleOf(wish.scale, lattice, found.ok ? null : found.refusal);
  const rim = enlargeEdge(edge, factor);
  const cells = cellMedians(seen, reducedUse(seen, lattice, rim));
  const covered = coveredShare(cells);
  const cover = coverGate(covered);
  const useless = gates.refusal ?? cover.refusal;
  const ground = useless ? null : membraneOf(seen, cells, lattice, rim);
  const uneven = ground && unevenGate(ground);
  const membrane = ground && !uneven ? { ...ground, blurPx: fullSizeBlur(gates.blurPx, factor) } : null;
  const floorPx = floorPxOf(wish.smallest, scale);
  return {
    membrane,
    scale,
    refusal: useless ?? uneven ?? refusal,
    warnings: cover.warning ? [...gates.warnings, cover.warning] : gates.warnings,
    thresholds: thresholdsFor(wish.falseFindsPerBlank, width * height, floorPx),
    floorPx,
    leastPx: wish.smallest === null ? floorPx - MISMEASURED : floorPx,
    searchedFraction: useless || uneven ? 0 : edge.insideFraction * (1 - gates.glareFraction) * (1 - covered),
  };
}

/** What measuring may take off the size of a piece of a few px (project choice). */
const MISMEASURED = 0.6;

/** Blur of good optics in px, taken where the photograph itself does not tell. */
const GOOD_OPTICS = 1;

/** Blur in px of the full size, told on a picture reduced by means of factor × factor px. */
const fullSizeBlur = (told: number | null, factor: number): number =>
  told === null ? GOOD_OPTICS : Math.sqrt(Math.max(0.25, (told * factor) ** 2 - (factor * factor - 1) / 12));

/** Pieces of regions whose rows are at hand, in order. */
export function piecesOf(regions: readonly Region[], rows: PhotoRows, prepared: Prepared): Piece[] {
  const { membrane, thresholds } = prepared;
  if (!membrane) return [];
  return regions.flatMap((region) => segmentRegion(region, rows, membrane, thresholds));
}

/** Parts need this share of the chance that a whole piece must reach. */
const DOUBTFUL = 0.5;

/** Whether a place lies under print. */
export function underPrint(membrane: Membrane): (x: number, y: number) => boolean {
  const { print } = membrane;
  const one = new Uint8Array(1);
  return (x, y) => print !== null && zoneRow(print.lattice, print.halfZone, y - 0.5, x - 0.5, 1, 1, one);
}

/** What is left of all pieces when rings, scratches, stains and what is far too faint are dropped, and broken ones mended. */
export function mendedPieces(pieces: readonly Piece[], prepared: Prepared): Piece[] {
  const { membrane } = prepared;
  if (!membrane) return [];
  const halo = haloPieces(pieces);
  const { edge, print } = membrane;
  const rim = (p: Piece) => edge !== null && !edge.everywhere && isRim(p, (x, y) => insideFilter(edge, x, y));
  const sharp = pieces.filter((p, i) => !halo.has(i) && !isSoft(p) && !isTint(p) && !isScratch(p) && !rim(p));
  const rings = ringPieces(sharp);
  const hidden = underPrint(membrane);
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
  const whole = withNeighbours(joinTouching(mendedPieces(pieces, prepared), underPrint(membrane)));
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
