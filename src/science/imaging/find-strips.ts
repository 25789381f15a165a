/**
 * A photograph too large to hold, searched strip by strip: one pass for the survey, one for the particles. Tiles, regions
 * and measures are those of the whole picture, so the particles are the same to the last digit.
 */

import { classicalFinder, findingFrom, particlesFrom, piecesOf } from './find.ts';
import type { Finding, FindWish, Picture, PictureStrips } from './finding.ts';
import type { PhotoRows } from './lightness.ts';
import { doneByHands, groundOf, type Hands, oneHand } from './many-hands.ts';
import type { Piece } from './piece.ts';
import { type Prepared, preparing, WHOLE_LIMIT } from './prepare.ts';
import { groupRuns, type Region } from './regions.ts';
import { MARGIN, TILE } from './significance.ts';
import { NO_NOTES, preparedFrom, preparedNote, type StripNotes } from './strip-notes.ts';
import { SURVEY_ROWS, type Survey, takeSurvey } from './survey.ts';

/** Rows read at a time in the first pass; whole groups of the survey. */
const FIRST_ROWS = 4 * SURVEY_ROWS;
/** Rows kept behind a tile row: regions that reach farther up are read again. */
const BEHIND = 256;
/** Rows that a region's window reaches beyond it. */
const RIM_ROWS = 32;

const rowsOf = (picture: Picture, from: number, to: number): Picture => ({
  ...picture,
  height: to - from,
  data: picture.data.subarray(from * picture.width * picture.channels, to * picture.width * picture.channels),
});

/** Progress runs from 0 to 1; `stop` is asked between strips, and ends the search without a finding when true. */
export interface StripWatch {
  progress(share: number): void;
  stop(): boolean;
}

/** Finds particles in strips; null when the watch said to stop. Memory: about two tile rows of the photograph. */
export async function findInStrips(
  strips: PictureStrips,
  wish: FindWish,
  watch: StripWatch = { progress: () => {}, stop: () => false },
  hands: Hands = oneHand,
  notes: StripNotes = NO_NOTES,
): Promise<Finding | null> {
  const { width, height } = strips;
  if (width * height <= WHOLE_LIMIT) return classicalFinder.find(await strips.strip(0, height), wish);
  const prepared = notes.earlier
    ? preparedFrom(notes.earlier.prepared)
    : await prepareStrips(strips, wish, watch, hands);
  if (!prepared) return null;
  if (!notes.earlier) notes.add(preparedNote(prepared));
  return searchStrips(strips, prepared, watch, hands, notes);
}

/** In a function of its own: the survey of a large photograph is tens of megabytes, and goes when it has been used. */
async function prepareStrips(
  strips: PictureStrips,
  wish: FindWish,
  watch: StripWatch,
  hands: Hands,
): Promise<Prepared | null> {
  const seen = await surveyStrips(strips, watch, hands);
  return seen && doneByHands(preparing(seen, null, wish, null), hands);
}

/** The survey of a photograph in strips; null when told to stop. */
export async function surveyStrips(
  strips: PictureStrips,
  watch: StripWatch,
  hands: Hands = oneHand,
): Promise<Survey | null> {
  const { width, height, channels, full } = strips;
  const taker = takeSurvey(width, height, channels, full, hands.room);
  let room: Picture['data'] | undefined;
  for (let top = 0; top < height; top += FIRST_ROWS) {
    if (watch.stop()) return null;
    const strip = await strips.strip(top, Math.min(FIRST_ROWS, height - top), room);
    room = strip.data;
    for (let y = 0; y < strip.height; y += SURVEY_ROWS) {
      taker.add(rowsOf(strip, y, Math.min(y + SURVEY_ROWS, strip.height)), top + y);
    }
    watch.progress((0.3 * top) / height);
  }
  return taker.finish();
}

/** Particles of a photograph in strips, by what was prepared from its survey; null when told to stop. */
export async function searchStrips(
  strips: PictureStrips,
  prepared: Prepared,
  watch: StripWatch,
  hands: Hands = oneHand,
  notes: StripNotes = NO_NOTES,
): Promise<Finding | null> {
  if (!prepared.membrane) return findingFrom(prepared, []);
  const pieces = await piecesInStrips(strips, prepared, watch, hands, notes);
  return pieces && findingFrom(prepared, particlesFrom(pieces, prepared));
}

/** In a function of its own, so that the rows held go before the pieces are put together. */
async function piecesInStrips(
  strips: PictureStrips,
  prepared: Prepared,
  watch: StripWatch,
  hands: Hands,
  notes: StripNotes,
): Promise<Piece[] | null> {
  const { width, height } = strips;
  const { membrane } = prepared;
  if (!membrane) return [];
  const ground = groundOf(membrane, prepared.thresholds);
  const earlier = notes.earlier?.rows ?? [];
  const last = earlier.at(-1);
  const begin = last?.next ?? 0;
  const held = heldRows(strips, hands, Math.max(0, begin - BEHIND));
  const group = groupRuns(last?.open);
  const pieces = earlier.flatMap((row) => row.pieces);
  let noted = pieces.length;
  const cut = async (regions: readonly Region[], rows: PhotoRows) => {
    const near = (region: Region) => Math.max(0, region.y0 - RIM_ROWS) >= rows.top;
    const own = await hands.cut(rows, ground, regions.filter(near));
    // In the order in which the regions were closed, wherever their rows came from.
    let next = 0;
    for (const region of regions) {
      if (near(region)) pieces.push(...own[next++]!);
      else pieces.push(...piecesOf([region], await rowsAround(strips, region), prepared));
    }
  };
  for (let y = begin; y < height; y += TILE) {
    if (watch.stop()) return null;
    const rows = await held.upTo(Math.min(height, y + TILE + 2 * MARGIN));
    const corners = Array.from({ length: Math.ceil(width / TILE) }, (_, i) => [i * TILE, y] as const);
    const runs = await hands.tiles(rows, ground, corners);
    await cut(group.add(runs, y + TILE), rows);
    notes.add({ next: y + TILE, pieces: pieces.slice(noted), open: group.open() });
    noted = pieces.length;
    watch.progress(0.3 + (0.7 * Math.min(height, y + TILE)) / height);
  }
  await cut(group.finish(), held.now());
  return pieces;
}

/** Rows read at once for a region that reaches far up. */
const AGAIN_ROWS = 128;

/**
 * A region's own rows and columns, read again where the strips have moved on: whole rows of a fibre that runs down the
 * whole filter would be the whole photograph.
 */
async function rowsAround(strips: PictureStrips, region: Region): Promise<PhotoRows> {
  const { channels, full } = strips;
  const top = Math.max(0, region.y0 - RIM_ROWS);
  const bottom = Math.min(strips.height, region.y1 + RIM_ROWS);
  const left = Math.max(0, region.x0 - RIM_ROWS);
  const width = Math.min(strips.width, region.x1 + RIM_ROWS) - left;
  let data: Uint8Array | Uint16Array | null = null;
  let room: Picture['data'] | undefined;
  for (let from = top; from < bottom; from += AGAIN_ROWS) {
    const part = await strips.strip(from, Math.min(AGAIN_ROWS, bottom - from), room);
    room = part.data;
    const size = width * (bottom - top) * channels;
    data ??= part.data instanceof Uint16Array ? new Uint16Array(size) : new Uint8Array(size);
    for (let y = 0; y < part.height; y++) {
      const at = (y * part.width + left) * channels;
      data.set(part.data.subarray(at, at + width * channels), (from - top + y) * width * channels);
    }
  }
  return { picture: { width, height: bottom - top, channels, full, data: data! }, top, left };
}

/** One buffer of rows that moves down the photograph from row `begin`, a tile row behind it kept. */
function heldRows(strips: PictureStrips, hands: Hands, begin: number) {
  const { width, height, channels, full } = strips;
  const stride = width * channels;
  const most = Math.min(height, TILE + BEHIND + 2 * MARGIN);
  const data =
    full > 255 ? new Uint16Array(hands.room(2 * most * stride)) : new Uint8Array(hands.room(most * stride));
  let top = begin;
  let end = begin;
  const now = (): PhotoRows => ({
    top,
    picture: {
      width,
      height: end - top,
      channels,
      full,
      data: data.subarray(0, (end - top) * stride),
    },
  });
  return {
    now,
    /** Reads on to row `bottom`; what no tile row needs any more makes room. */
    async upTo(bottom: number): Promise<PhotoRows> {
      if (bottom > end) {
        const from = Math.max(top, bottom - most);
        data.copyWithin(0, (from - top) * stride, (end - top) * stride);
        top = from;
        const room = data.subarray((end - top) * stride, (bottom - top) * stride);
        const strip = await strips.strip(end, bottom - end, room);
        if (strip.data.buffer !== room.buffer) room.set(strip.data);
      }
      end = bottom;
      return now();
    },
  };
}
