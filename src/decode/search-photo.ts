import { classicalFinder, type Finding, type FindWish } from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { decodePhoto } from './decode-photo.ts';
import { readHead } from './photo-head.ts';
import type { PhotoRefusal } from './photo-refusal.ts';

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
  const decoded = await decodePhoto(path, name, head.value);
  if (!decoded.ok) return decoded;
  progress(0.3);
  const finding = classicalFinder.find(decoded.value, wish);
  progress(1);
  return done({ finding, widthPx: width, heightPx: height });
}
