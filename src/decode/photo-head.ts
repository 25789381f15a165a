import { type FileHandle, open } from 'node:fs/promises';
import sharp, { type Metadata } from 'sharp';
import { done, type Outcome } from '../units/index.ts';
import { diagnose } from './damage.ts';
import { type PhotoRefusal, refusePhoto } from './photo-refusal.ts';
import { SNIFF_BYTES, sniff } from './sniff.ts';

/** Most pixels accepted: enough for a stitched filter, and a bound on the work that a small file can ask for. */
export const MOST_PIXELS = { jpeg: 1e9, png: 1e9, tiff: 4e9 } as const;
/** Shortest side of a photograph that could show anything. */
export const SHORTEST_SIDE = 32;

/** What a photograph's head says, before its pixels are read. Width and height are of the upright picture. */
export interface PhotoHead {
  readonly format: 'jpeg' | 'png' | 'tiff';
  readonly bytes: number;
  readonly width: number;
  readonly height: number;
  /** EXIF orientation, 1 to 8. */
  readonly orientation: number;
  readonly bits: 8 | 16;
  readonly channels: 1 | 3;
  readonly alpha: boolean;
}

const show = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ',');

/** Reads kind, size and depth. A file that is not a photograph is refused by its bytes before any decoder sees it. */
export async function readHead(path: string, name: string): Promise<Outcome<PhotoHead, PhotoRefusal>> {
  const start = await firstBytes(path, name);
  if (!start.ok) return start;
  const { head, bytes } = start.value;
  if (bytes === 0) return refusePhoto('empty-file', name);
  const seen = sniff(head);
  if (seen.kind === 'other') return refusePhoto('not-a-photo', name, seen.named);
  const meta = await metadata(path);
  if (!meta) return diagnose(path, name, seen.kind, bytes);
  const [width, height] = [meta.autoOrient.width, meta.autoOrient.height];
  if (width * height > MOST_PIXELS[seen.kind]) {
    const most = show(MOST_PIXELS[seen.kind] / 1e6);
    const size = `${show(width)} × ${show(height)} pixels, more than the ${most} megapixels allowed`;
    return refusePhoto('too-many-pixels', name, size);
  }
  if (Math.min(width, height) < SHORTEST_SIDE) {
    const size = `${show(width)} × ${show(height)} pixel${width * height === 1 ? '' : 's'}`;
    return refusePhoto('too-small', name, size);
  }
  const bits = { uchar: 8, ushort: 16 } as const;
  const depth = bits[meta.depth as keyof typeof bits];
  if (!depth) return refusePhoto('unfit-numbers', name, `numbers of the kind “${meta.depth}”`);
  return done({
    format: seen.kind,
    bytes,
    width,
    height,
    orientation: meta.orientation ?? 1,
    bits: depth,
    channels: meta.space === 'b-w' || meta.space === 'grey16' ? 1 : 3,
    alpha: meta.hasAlpha ?? false,
  });
}

async function metadata(path: string): Promise<Metadata | null> {
  try {
    return await sharp(path, { limitInputPixels: false }).metadata();
  } catch {
    return null;
  }
}

async function firstBytes(
  path: string,
  name: string,
): Promise<Outcome<{ head: Uint8Array; bytes: number }, PhotoRefusal>> {
  let file: FileHandle | null = null;
  try {
    // Only regular files are opened to the end: a pipe or device would hang the reader.
    file = await open(path, 'r');
    const facts = await file.stat();
    if (!facts.isFile()) return refusePhoto('not-a-file', name);
    const head = new Uint8Array(SNIFF_BYTES);
    const { bytesRead } = await file.read(head, 0, SNIFF_BYTES, 0);
    return done({ head: head.subarray(0, bytesRead), bytes: facts.size });
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    if (code === 'EISDIR') return refusePhoto('not-a-file', name);
    if (NOT_THERE.includes(code)) return refusePhoto('not-found', name);
    throw error;
  } finally {
    await file?.close();
  }
}

/** Errors that speak of the name, not of the machine. ERR_INVALID_ARG_VALUE: a name with a zero byte in it. */
const NOT_THERE = ['ENOENT', 'ENOTDIR', 'EACCES', 'EPERM', 'ENAMETOOLONG', 'ELOOP', 'ERR_INVALID_ARG_VALUE'];
