/**
 * The heavy work, shared out: the survey, errands of the preparation, tiles searched and regions cut. Each is done from
 * plain data alone and gives the same answer whoever does it, so many hands find the same particles as one, to the last
 * digit.
 */
import { doErrand, type Errand, type Steps } from './errands.ts';
import type { Picture } from './finding.ts';
import type { PhotoRows } from './lightness.ts';
import type { Membrane } from './membrane.ts';
import type { Piece } from './piece.ts';
import type { Region } from './regions.ts';
import { segmentRegion } from './segment.ts';
import { type Runs, searchTile } from './significance.ts';
import { type Survey, survey } from './survey.ts';
import type { Thresholds } from './thresholds.ts';

/** What tiles and regions are judged against: data without functions, so that it can be handed to another thread. */
export interface Ground {
  readonly membrane: Membrane;
  readonly thresholds: Thresholds;
}

/** Top left corners of tiles, or regions, of rows that are at hand. */
export type Task =
  | { readonly tiles: readonly (readonly [x: number, y: number])[] }
  | { readonly regions: readonly Region[] };

/** Answers in the order of the task, however the work was shared. */
export interface Hands {
  /** The survey of a picture; where there is another hand, it works on while the caller's thread goes on. */
  survey(picture: Picture): Promise<Survey>;
  /** Answers to errands, whose pictures lie in memory that all hands can read. */
  errands(errands: readonly Errand[]): Promise<unknown[]>;
  /** Memory that all hands can read. */
  room(bytes: number): ArrayBufferLike;
  tiles(rows: PhotoRows, ground: Ground, corners: readonly (readonly [number, number])[]): Promise<Runs[]>;
  cut(rows: PhotoRows, ground: Ground, regions: readonly Region[]): Promise<Piece[][]>;
}

export const groundOf = (membrane: Membrane, thresholds: Thresholds): Ground => ({
  membrane: { ...membrane, lattice: null },
  thresholds,
});

/** One tile's runs or one region's pieces. */
export function doTask(task: Task, i: number, rows: PhotoRows, ground: Ground): Runs | Piece[] {
  const { membrane, thresholds } = ground;
  if ('regions' in task) return segmentRegion(task.regions[i]!, rows, membrane, thresholds);
  const [x, y] = task.tiles[i]!;
  return searchTile(rows, membrane, x, y, thresholds);
}

/** The caller's own thread alone: the reference. */
export const oneHand: Hands = {
  survey: async (picture) => survey(picture),
  errands: async (errands) => errands.map(doErrand),
  room: (bytes) => new ArrayBuffer(bytes),
  tiles: async (rows, ground, tiles) => tiles.map((_, i) => doTask({ tiles }, i, rows, ground) as Runs),
  cut: async (rows, ground, regions) =>
    regions.map((_, i) => doTask({ regions }, i, rows, ground) as Piece[]),
};

/** A work whose errands are shared out. */
export async function doneByHands<T>(steps: Steps<T>, hands: Hands): Promise<T> {
  let step = steps.next();
  while (!step.done) step = steps.next(await hands.errands(step.value));
  return step.value;
}
