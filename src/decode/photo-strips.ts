import { type FileHandle, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import type { PictureStrips } from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { fullOf } from './bits-in-use.ts';
import { endsTooSoon } from './damage.ts';
import { broken } from './decode-photo.ts';
import type { PhotoHead } from './photo-head.ts';
import { type PhotoRefusal, refusePhoto } from './photo-refusal.ts';
import { OPENING_OWN, upright } from './pixels.ts';
import { firstDirectory } from './tiff-end.ts';
import { workingFolder } from './working-copies.ts';

/** Above this many pixels a photograph is read strip by strip, so that memory stays bounded. */
export const WHOLE_PIXELS = 32e6;

export interface OpenStrips {
  readonly strips: PictureStrips;
  /** The photograph upright and unpacked, as a TIFF. */
  readonly copy: string;
  /** Removes the working copy. */
  close(): Promise<void>;
}

/**
 * Opens a large photograph for reading in strips. It is unpacked once, in a single pass and little memory, into a working
 * copy of plain rows on disk, because packed strips can only be reached by reading all before them; whatever order its
 * tiles or strips have, they are turned only this once.
 */
export async function openStrips(
  path: string,
  name: string,
  head: PhotoHead,
  workFolder?: string,
): Promise<Outcome<OpenStrips, PhotoRefusal>> {
  if (head.format === 'tiff' && (await endsTooSoon(path, head.bytes))) return refusePhoto('cut-short', name);
  const folder = await workingFolder(workFolder);
  const copy = join(folder, 'upright.tif');
  const clear = () => rm(folder, { recursive: true, force: true });
  try {
    await upright(path, head).tiff({ compression: 'none', predictor: 'none', bigtiff: true }).toFile(copy);
  } catch (error) {
    await clear();
    return broken(error, path, name, head);
  }
  let file: FileHandle | null = null;
  try {
    const full = head.bits === 16 ? fullOf(await brightest(copy)) : 255;
    file = await open(copy, 'r');
    const strips = await plainRows(file, head, full);
    const opened = file;
    return done({
      strips,
      copy,
      async close() {
        await opened.close();
        await clear();
      },
    });
  } catch (error) {
    await file?.close();
    await clear();
    throw error;
  }
}

/** TIFF tags: where its strips lie, and how many rows each holds. */
const STRIP_OFFSETS = [273];
const ROWS_PER_STRIP = [278];

/** Rows of an unpacked TIFF, read where they lie. */
async function plainRows(file: FileHandle, head: PhotoHead, full: number): Promise<PictureStrips> {
  const { width, height, channels } = head;
  const directory = await firstDirectory(async (at, length) => {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, at);
    return buffer.subarray(0, bytesRead);
  });
  const offsets = (await directory?.values(STRIP_OFFSETS)) ?? [];
  const rowsPerStrip = (await directory?.values(ROWS_PER_STRIP))?.[0] ?? 0;
  if (!(rowsPerStrip > 0) || offsets.length !== Math.ceil(height / rowsPerStrip)) {
    throw new Error(`working copy: ${height} rows were written, ${offsets.length} strips of them are there`);
  }
  const stride = width * channels * (head.bits / 8);
  return {
    width,
    height,
    channels,
    full,
    async strip(top, rows, into) {
      if (top < 0 || rows < 1 || top + rows > height) {
        throw new RangeError(`strip: rows ${top} to ${top + rows} are not within 0 to ${height}`);
      }
      const length = rows * width * channels;
      const room = into && into.length >= length ? into.subarray(0, length) : null;
      const data = room ?? (head.bits === 16 ? new Uint16Array(length) : new Uint8Array(length));
      const bytes = new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
      for (let y = top; y < top + rows; ) {
        const strip = Math.floor(y / rowsPerStrip);
        const end = Math.min(top + rows, (strip + 1) * rowsPerStrip);
        const at = offsets[strip]! + (y - strip * rowsPerStrip) * stride;
        await readFully(file, bytes.subarray((y - top) * stride, (end - top) * stride), at);
        y = end;
      }
      return { width, height: rows, channels, full, data };
    },
  };
}

async function readFully(file: FileHandle, into: Uint8Array, at: number): Promise<void> {
  for (let done = 0; done < into.length; ) {
    const { bytesRead } = await file.read(into, done, into.length - done, at + done);
    if (bytesRead === 0) throw new Error('working copy: it ends before its last row');
    done += bytesRead;
  }
}

async function brightest(copy: string): Promise<number> {
  const { channels } = await sharp(copy, OPENING_OWN).stats();
  return Math.max(...channels.map((c) => c.max));
}
