import {
  classicalFinder,
  type Finding,
  type FindWish,
  findByHands,
  findInStrips,
  type Hands,
  NO_NOTES,
  oneHand,
} from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { decodePhoto } from './decode-photo.ts';
import { type FindingHands, findingHands, within } from './finding-hands.ts';
import { type PhotoHead, readHead } from './photo-head.ts';
import { type PhotoRefusal, refusePhoto } from './photo-refusal.ts';
import { openStrips, WHOLE_PIXELS } from './photo-strips.ts';
import { keepTiles } from './photo-tiles.ts';
import { openNotes } from './search-notes.ts';

/** What the crew is asked for one photograph. `name` is for sentences only; `path` is what is read. */
export interface SearchOrder {
  readonly path: string;
  readonly name: string;
  readonly wish: FindWish;
  /** Where a large photograph may be unpacked; the system's own place for such files when missing. */
  readonly workFolder?: string;
  /** Where the tiles of a large photograph go, by its hash, while it lies unpacked; none are made when missing. */
  readonly tiles?: { readonly folder: string; readonly sha256: string };
  /** File in which the search of a large photograph notes how far it has come, so that one broken off goes on there. */
  readonly notes?: string;
  /** Threads that may work on this one photograph, the caller's included; 1 when missing. */
  readonly hands?: number;
}

/** Helpers of this thread, kept from one photograph to the next. */
let kept: { readonly count: number; readonly hands: FindingHands } | null = null;

async function handsFor(count: number): Promise<Hands> {
  if (count <= 1) return oneHand;
  if (kept?.count !== count) {
    await kept?.hands.close();
    kept = { count, hands: findingHands(count - 1) };
  }
  return kept.hands;
}

/** Ends helpers that searches on this thread have left waiting. */
export async function dismissHands(): Promise<void> {
  await kept?.hands.close();
  kept = null;
}

export interface Searched {
  readonly finding: Finding;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Reads a photograph and searches it, on the caller's thread. */
export async function searchPhoto(
  order: SearchOrder,
  progress: (share: number) => void,
): Promise<Outcome<Searched, PhotoRefusal>> {
  const { path, name, wish } = order;
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const { width, height } = head.value;
  const hands = await handsFor(order.hands ?? 1);
  if (width * height > WHOLE_PIXELS) return searchStrips(order, head.value, hands, progress);
  const decoded = await decodePhoto(path, name, head.value);
  if (!decoded.ok) return decoded;
  progress(DECODED);
  const finding = await findByHands(within(hands, decoded.value), wish, hands, (share) =>
    progress(DECODED + (1 - DECODED) * share),
  );
  progress(1);
  return done({ finding, widthPx: width, heightPx: height });
}

/** Decoding a photograph takes about this share of the whole work. */
const DECODED = 0.05;
/** Unpacking a large photograph into its working copy takes about this share of the whole work. */
const UNPACKED = 0.15;
/** And with its tiles about this. */
const TILED = 0.35;

async function searchStrips(
  { path, name, wish, workFolder, tiles, notes }: SearchOrder,
  head: PhotoHead,
  hands: Hands,
  progress: (share: number) => void,
): Promise<Outcome<Searched, PhotoRefusal>> {
  const opened = await openStrips(path, name, head, workFolder);
  if (!opened.ok) return opened;
  progress(UNPACKED);
  const kept = notes ? openNotes(notes, JSON.stringify([classicalFinder.version, wish])) : null;
  let stopped = false;
  try {
    // First, so that the photograph can be looked at while it is searched; what fails here is made when it is looked at.
    if (tiles) await keepTiles(tiles.folder, tiles.sha256, opened.value.copy, head.bits).catch(() => {});
    const begun = tiles ? TILED : UNPACKED;
    progress(begun);
    const watch = {
      progress: (share: number) => progress(begun + (1 - begun) * share),
      stop: () => false,
    };
    const finding = await findInStrips(opened.value.strips, wish, watch, hands, kept ?? NO_NOTES);
    stopped = finding === null;
    if (!finding) return refusePhoto('stopped', name);
    return done({ finding, widthPx: head.width, heightPx: head.height });
  } finally {
    // What fails is not gone on with: it begins anew.
    kept?.close(!stopped);
    await opened.value.close();
  }
}
