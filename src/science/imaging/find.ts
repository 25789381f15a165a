/** The classical method: from a photograph and a wish to a finding. */
import { fraction, mm, type Refusal, umPerPx } from '../../units/index.ts';
import { enlargeEdge, enlargeLattice } from './enlarge-lattice.ts';
import type { Finder, Finding, FindWish, Particle, Picture } from './finding.ts';
import type { PhotoRows } from './lightness.ts';
import { type Membrane, membraneOf } from './membrane.ts';
import { particleFrom } from './particle.ts';
import { groupRuns, type Region } from './regions.ts';
import type { FilterEdge } from './scale/edge.ts';
import { findLattice } from './scale/find-lattice.ts';
import type { Lattice } from './scale/lattice.ts';
import { segmentRegion } from './segment.ts';
import { searchTile, TILE } from './significance.ts';
import { type Survey, survey } from './survey.ts';
import { type Thresholds, thresholdsFor } from './thresholds.ts';
import { floorPxOf, scaleOf } from './wished-scale.ts';

export const METHOD = 'classical';
export const VERSION = '1';

/** Above this many pixels the print is looked for on the reduced picture alone. */
export const WHOLE_LIMIT = 32e6;

/** All that one look over the photograph settles before particles are searched for. */
export interface Prepared {
  readonly survey: Survey;
  readonly membrane: Membrane | null;
  readonly scale: Finding['scale'];
  readonly refusal: Refusal | null;
  readonly warnings: readonly Refusal[];
  readonly thresholds: Thresholds;
  readonly floorPx: number;
  readonly searchedFraction: number;
}

/** `picture` may be left out where it is too large to hold; the reduced one serves then. */
export function prepare(seen: Survey, picture: Picture | null, wish: FindWish): Prepared {
  const { width, height } = seen;
  const whole = picture !== null && width * height <= WHOLE_LIMIT;
  const source = whole ? picture : seen.reduced;
  const factor = whole ? 1 : seen.factor;
  const warnings: Refusal[] = [];
  // Without a wish for the print it is still looked for, so that its lines are not taken for fibres.
  const pitch = wish.scale.from === 'printed-grid' ? wish.scale.pitch : mm(1);
  const found = findLattice(source, pitch);
  const lattice: Lattice | null = found.ok ? enlargeLattice(found.value, factor, width, height) : null;
  const edge: FilterEdge | null = null;
  const { scale, refusal } = scaleOf(wish.scale, lattice, found.ok ? null : found.refusal);
  const membrane = membraneOf(seen, lattice, edge && enlargeEdge(edge, factor));
  const floorPx = floorPxOf(wish.smallest, scale);
  return {
    survey: seen,
    membrane,
    scale,
    refusal,
    warnings,
    thresholds: thresholdsFor(wish.falseFindsPerBlank, width * height, floorPx),
    floorPx,
    searchedFraction: 1,
  };
}

/** Particles of regions whose rows are at hand, in order. */
export function particlesOf(regions: readonly Region[], rows: PhotoRows, prepared: Prepared): Particle[] {
  const { membrane, thresholds, scale, floorPx } = prepared;
  if (!membrane) return [];
  const out: Particle[] = [];
  for (const region of regions) {
    for (const piece of segmentRegion(region, rows, membrane, thresholds)) {
      const particle = particleFrom(piece, membrane, scale && umPerPx(scale.umPerPx));
      if (particle && particle.feretMaxPx >= floorPx) out.push(particle);
    }
  }
  return out;
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

function find(picture: Picture, wish: FindWish): Finding {
  const prepared = prepare(survey(picture), picture, wish);
  const { membrane } = prepared;
  if (!membrane) return findingFrom(prepared, []);
  const rows: PhotoRows = { picture, top: 0 };
  const group = groupRuns();
  const particles: Particle[] = [];
  for (let y = 0; y < picture.height; y += TILE) {
    const runs = [];
    for (let x = 0; x < picture.width; x += TILE)
      runs.push(searchTile(rows, membrane, x, y, prepared.thresholds));
    particles.push(...particlesOf(group.add(runs, y + TILE), rows, prepared));
  }
  particles.push(...particlesOf(group.finish(), rows, prepared));
  return findingFrom(prepared, particles);
}

/** The classical finder: background and print modelled, significance in local noise, half-height outlines. */
export const classicalFinder: Finder = { method: METHOD, version: VERSION, find };
