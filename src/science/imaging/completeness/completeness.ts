/** How small and how faint a piece this laboratory's own optics and finder still find. */
import { done, type Outcome, refused } from '../../../units/index.ts';
import { chanceFrom } from '../../maths/index.ts';
import type { Finder, Finding, FindWish, Picture } from '../finding.ts';
import { findFilterEdge } from '../scale/find-edge.ts';
import { findLattice } from '../scale/find-lattice.ts';
import { focusOf } from '../scale/focus.ts';
import { type Floor, type Share, shareFound, sizeFloor, type Trial } from './chance-of-finding.ts';
import { type Design, type Drawn, piecesOf } from './design.ts';
import { drawInto, foundOf, type Ground, nextSeed } from './drawn-control.ts';
import type { DrawnShape } from './known-piece.ts';

/** One control photograph, held only as long as `open` is being used. */
export interface ControlPhoto {
  readonly name: string;
  open(): Picture;
}

export interface CompletenessCell extends Share {
  readonly shape: DrawnShape;
  readonly contrast: string;
  readonly sizeUm: number;
}

export interface SizeFloors {
  /** 'all' pools the shapes, or the contrasts, in the shares in which they were drawn. */
  readonly shape: DrawnShape | 'all';
  readonly contrast: string;
  readonly half: Floor;
  readonly nineTenths: Floor;
}

export interface Completeness {
  readonly method: string;
  readonly version: string;
  readonly photographs: number;
  readonly drawn: number;
  /** Pieces that found no free place and were not drawn. */
  readonly notDrawn: number;
  readonly cells: readonly CompletenessCell[];
  readonly floors: readonly SizeFloors[];
  readonly blurPx: number;
  readonly confidence: number;
  readonly seed: number;
}

export interface Progress {
  readonly done: number;
  readonly total: number;
}

/** At most so many pieces in one photograph, so that the drawing does not make a crowd of it. */
const MOST = 60;

interface Result extends Drawn {
  readonly found: boolean;
}

function groundOf(picture: Picture, empty: Finding, wish: FindWish, design: Design): Ground | null {
  if (!empty.scale) return null;
  const print = wish.scale.from === 'printed-grid' ? findLattice(picture, wish.scale.pitch) : null;
  return {
    picture,
    umPerPx: empty.scale.umPerPx,
    edge: findFilterEdge(picture, print?.ok ? print.value : null),
    particles: empty.particles,
    blurPx: design.blurPx ?? focusOf(picture).blurPx ?? 1,
    fibreWidthUm: design.fibreWidthUm,
  };
}

/**
 * Draws known pieces into the laboratory's own control photographs, lets the finder search them, and tells what share
 * was found. It runs as a generator: each step is one search, so that the caller can show progress, pause or stop.
 * The pieces take the photograph's own blur, light and noise. The contrast is a change of encoded (sRGB) values.
 * Deceives when: the controls are cleaner, sharper or better lit than the runs' photographs; when real pieces lie in
 * several depths of focus; and for looks that are not drawn (clear pieces with bright rims).
 */
export function* completenessSteps(
  photos: readonly ControlPhoto[],
  finder: Finder,
  wish: FindWish,
  design: Design,
): Generator<Progress, Outcome<Completeness>> {
  if (photos.length === 0)
    throw new RangeError('completeness: at least one control photograph is needed, given none');
  const chance = chanceFrom(design.seed);
  let waiting = piecesOf(design, chance);
  const total = waiting.length;
  const results: Result[] = [];
  let blurSum = 0;
  let without = 0;
  let rounds = 0;
  let idle = 0;
  for (let i = 0; waiting.length > 0 && idle < photos.length; i++) {
    const photo = photos[i % photos.length]!;
    const picture = photo.open();
    const ground = groundOf(picture, finder.find(picture, wish), wish, design);
    idle++;
    if (!ground) {
      without++;
      continue;
    }
    // Photographs take turns, each with its share of what is left, in rounds of at most MOST pieces.
    const turns = Math.max(1, photos.length - i);
    let share = Math.ceil(waiting.length / turns);
    while (share > 0 && waiting.length > 0) {
      const offered = waiting.slice(0, 2 * MOST);
      const drawn = drawInto(ground, offered, Math.min(share, MOST), chanceFrom(nextSeed(chance)));
      if (drawn.truth.length === 0) break;
      const finding = finder.find(drawn.picture, wish);
      foundOf(drawn.truth, finding.particles).forEach((found, k) => {
        results.push({ ...drawn.truth[k]!, found });
      });
      waiting = [...drawn.left, ...waiting.slice(2 * MOST)];
      share -= drawn.truth.length;
      blurSum += ground.blurPx;
      rounds++;
      idle = 0;
      yield { done: results.length, total };
    }
  }
  if (results.length === 0) {
    return refused(
      without > 0
        ? {
            why: 'no-scale',
            message:
              'None of the control photographs has a scale, so pieces of known size cannot be drawn into them: give the pitch of the print or the scale.',
          }
        : {
            why: 'no-room',
            message:
              'The control photographs have no free place for the pieces to be drawn: choose emptier controls or smaller pieces.',
          },
    );
  }
  return done({
    method: finder.method,
    version: finder.version,
    photographs: photos.length - without,
    drawn: results.length,
    notDrawn: waiting.length,
    cells: cellsOf(results, design),
    floors: floorsOf(results, design),
    blurPx: blurSum / rounds,
    confidence: design.confidence,
    seed: design.seed,
  });
}

/** All steps at once. */
export function completenessOf(
  photos: readonly ControlPhoto[],
  finder: Finder,
  wish: FindWish,
  design: Design,
): Outcome<Completeness> {
  const steps = completenessSteps(photos, finder, wish, design);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

function cellsOf(results: readonly Result[], design: Design): CompletenessCell[] {
  const cells: CompletenessCell[] = [];
  for (const shape of design.shapes) {
    for (const contrast of design.contrasts) {
      for (const sizeUm of design.sizesUm) {
        const own = results.filter(
          (r) => r.shape === shape && r.contrast.name === contrast.name && r.sizeUm === sizeUm,
        );
        if (own.length === 0) continue;
        const found = own.filter((r) => r.found).length;
        cells.push({
          shape,
          contrast: contrast.name,
          sizeUm,
          ...shareFound(found, own.length, design.confidence),
        });
      }
    }
  }
  return cells;
}

function floorsOf(results: readonly Result[], design: Design): SizeFloors[] {
  const floors: SizeFloors[] = [];
  const add = (shape: DrawnShape | 'all', contrast: string) => {
    const trials: Trial[] = results.filter(
      (r) => (shape === 'all' || r.shape === shape) && (contrast === 'all' || r.contrast.name === contrast),
    );
    if (trials.length === 0) return;
    floors.push({
      shape,
      contrast,
      half: sizeFloor(trials, 0.5, design.confidence),
      nineTenths: sizeFloor(trials, 0.9, design.confidence),
    });
  };
  for (const shape of [...design.shapes, 'all'] as const) {
    for (const contrast of design.contrasts) add(shape, contrast.name);
    add(shape, 'all');
  }
  return floors;
}
