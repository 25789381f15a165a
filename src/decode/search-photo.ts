import { classicalFinder, type Finding, type FindWish, findInStrips } from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { decodePhoto } from './decode-photo.ts';
import { type PhotoHead, readHead } from './photo-head.ts';
import { type PhotoRefusal, refusePhoto } from './photo-refusal.ts';
import { openStrips, WHOLE_PIXELS } from './photo-strips.ts';

/** What the crew is asked for one photograph. `name` is for sentences only; `path` is what is read. */
export interface SearchOrder {
  readonly path: string;
  readonly name: string;
  readonly wish: FindWish;
  /** Where a large photograph may be unpacked; the system's own place for such files when missing. */
  readonly workFolder?: string;
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
  if (width * height > WHOLE_PIXELS) return searchStrips(order, head.value, progress);
  const decoded = await decodePhoto(path, name, head.value);
  if (!decoded.ok) return decoded;
  progress(0.3);
  const finding = classicalFinder.find(decoded.value, wish);
  progress(1);
  return done({ finding, widthPx: width, heightPx: height });
}

/** Unpacking a large photograph into its working copy takes about this share of the whole work. */
const UNPACKED = 0.15;

async function searchStrips(
  { path, name, wish, workFolder }: SearchOrder,
  head: PhotoHead,
  progress: (share: number) => void,
): Promise<Outcome<Searched, PhotoRefusal>> {
  const opened = await openStrips(path, name, head, workFolder);
  if (!opened.ok) return opened;
  progress(UNPACKED);
  try {
    const finding = await findInStrips(opened.value.strips, wish, {
      progress: (share) => progress(UNPACKED + (1 - UNPACKED) * share),
      stop: () => false,
    });
    if (!finding) return refusePhoto('stopped', name);
    return done({ finding, widthPx: head.width, heightPx: head.height });
  } finally {
    await opened.value.close();
  }
}
