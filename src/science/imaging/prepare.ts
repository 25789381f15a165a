/** All that one look over a photograph settles before particles are searched for. */
import { mm, type Outcome, type Refusal } from '../../units/index.ts';
import { backgroundFrom, type CellMedians, cellRows, joinedCells } from './background.ts';
import { coveredShare, coverGate } from './covered.ts';
import { enlargeEdge, enlargeLattice } from './enlarge-lattice.ts';
import { answersTo, doneAlone, errand, type Steps } from './errands.ts';
import type { Finding, FindWish, Picture } from './finding.ts';
import { localNoise } from './local-noise.ts';
import type { Membrane } from './membrane.ts';
import { linePlaces, modelPrint, zoneBreadth } from './print-model.ts';
import type { FilterEdge } from './scale/edge.ts';
import { findFilterEdge } from './scale/find-edge.ts';
import { findLattice } from './scale/find-lattice.ts';
import type { Lattice } from './scale/lattice.ts';
import { LEVELS, type Survey } from './survey.ts';
import { type Thresholds, thresholdsFor } from './thresholds.ts';
import { unevenGate } from './uneven.ts';
import { floorPxOf, scaleOf } from './wished-scale.ts';

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
}

export function overviewOf(picture: Picture, wish: FindWish): Overview {
  // Without a wish for the print it is still looked for, so that its lines are not taken for fibres.
  const pitch = wish.scale.from === 'printed-grid' ? wish.scale.pitch : mm(1);
  const lattice = findLattice(picture, pitch);
  return { lattice, edge: findFilterEdge(picture, lattice.ok ? lattice.value : null) };
}

/** Into so many bands the membrane's light is shared out: a few for each of a machine's cores. */
const BANDS = 4;

/** Cell rows [from, to) of each band. */
function bandsOf(rows: number): (readonly [from: number, to: number])[] {
  const count = Math.min(BANDS, rows);
  const at = (k: number) => Math.round((k * rows) / count);
  return Array.from({ length: count }, (_, k) => [at(k), at(k + 1)] as const);
}

/**
 * `picture` may be left out where it is too large to hold; the reduced one serves then. `overview` is that of the picture
 * when it is known already.
 */
export const prepare = (
  seen: Survey,
  picture: Picture | null,
  wish: FindWish,
  overview: Overview | null = null,
): Prepared => doneAlone(preparing(seen, picture, wish, overview));

/** As `prepare`, step by step. */
export function* preparing(
  seen: Survey,
  picture: Picture | null,
  wish: FindWish,
  overview: Overview | null,
): Steps<Prepared> {
  const { width, height } = seen;
  const whole = picture !== null && width * height <= WHOLE_LIMIT;
  const factor = whole ? 1 : seen.factor;
  const looked = whole ? picture : seen.reduced;
  const { lattice: found, edge } = overview ?? overviewOf(looked, wish);
  const lattice: Lattice | null = found.ok ? enlargeLattice(found.value, factor, width, height) : null;
  const { scale, refusal } = scaleOf(wish.scale, lattice, found.ok ? null : found.refusal);
  const rim = enlargeEdge(edge, factor);
  const zone = lattice && { lattice: linePlaces(lattice), halfBreadth: zoneBreadth(lattice) };
  const bands = bandsOf(cellRows(height));
  const [gates, ...parts] = yield* answersTo(
    errand('gatesOf', looked, found.ok ? { umPerPx: found.value.umPerPx } : null, edge),
    ...bands.map(([from, to]) => errand('cellMedians', seen, zone, rim, from, to)),
  );
  const cells = joinedCells(parts);
  const covered = coveredShare(cells);
  const cover = coverGate(covered);
  const useless = gates.refusal ?? cover.refusal;
  const ground = useless ? null : yield* groundFrom(seen, cells, lattice, rim, bands);
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

/** The membrane by the medians of the survey's cells where they show it; null where none does. */
function* groundFrom(
  seen: Survey,
  cells: CellMedians,
  lattice: Lattice | null,
  edge: FilterEdge,
  bands: readonly (readonly [from: number, to: number])[],
): Steps<Membrane | null> {
  const light = yield* answersTo(...bands.map(([from, to]) => errand('smoothMedians', cells, from, to)));
  const smoothed = light.filter((band) => band !== null);
  if (smoothed.length < light.length) return null;
  const background = backgroundFrom(cells, smoothed);
  const print = modelPrint(seen, lattice, background);
  const levels = yield* answersTo(
    ...Array.from({ length: LEVELS }, (_, k) => errand('noiseOfLevel', seen, background, print, edge, k)),
  );
  const { width, height, channels } = seen;
  return { width, height, channels, background, noise: localNoise(levels), print, lattice, edge };
}

/** What measuring may take off the size of a piece of a few px (project choice). */
const MISMEASURED = 0.6;

/** Blur of good optics in px, taken where the photograph itself does not tell. */
const GOOD_OPTICS = 1;

/** Blur in px of the full size, told on a picture reduced by means of factor × factor px. */
const fullSizeBlur = (told: number | null, factor: number): number =>
  told === null ? GOOD_OPTICS : Math.sqrt(Math.max(0.25, (told * factor) ** 2 - (factor * factor - 1) / 12));
