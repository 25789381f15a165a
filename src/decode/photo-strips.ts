import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import type { PictureStrips } from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { fullOf } from './bits-in-use.ts';
import { broken } from './decode-photo.ts';
import type { PhotoHead } from './photo-head.ts';
import type { PhotoRefusal } from './photo-refusal.ts';
import { OPENING_OWN, pixelsOf, upright } from './pixels.ts';
import { workingFolder } from './working-copies.ts';

/** Above this many pixels a photograph is read strip by strip, so that memory stays bounded. */
export const WHOLE_PIXELS = 32e6;

export interface OpenStrips {
  readonly strips: PictureStrips;
  /** Removes the working copy. */
  close(): Promise<void>;
}

/**
 * Opens a large photograph for reading in strips. It is unpacked once, in a single pass and little memory, into a tiled
 * working copy on disk, because packed strips can only be reached by reading all before them.
 */
export async function openStrips(
  path: string,
  name: string,
  head: PhotoHead,
  workFolder?: string,
): Promise<Outcome<OpenStrips, PhotoRefusal>> {
  const folder = await workingFolder(workFolder);
  const close = () => rm(folder, { recursive: true, force: true });
  const copy = join(folder, 'upright.tif');
  try {
    await upright(path, head)
      .tiff({
        compression: 'none',
        predictor: 'none',
        tile: true,
        tileWidth: 512,
        tileHeight: 512,
        bigtiff: true,
      })
      .toFile(copy);
  } catch (error) {
    await close();
    return broken(error, path, name, head);
  }
  const full = head.bits === 16 ? fullOf(await brightest(copy)) : 255;
  const { width, height, channels } = head;
  return done({
    close,
    strips: {
      width,
      height,
      channels,
      full,
      async strip(top, rows) {
        if (top < 0 || rows < 1 || top + rows > height) {
          throw new RangeError(`strip: rows ${top} to ${top + rows} are not within 0 to ${height}`);
        }
        const part = sharp(copy, OPENING_OWN).extract({ left: 0, top, width, height: rows });
        return { ...(await pixelsOf(part, head)), full };
      },
    },
  });
}

async function brightest(copy: string): Promise<number> {
  const { channels } = await sharp(copy, OPENING_OWN).stats();
  return Math.max(...channels.map((c) => c.max));
}
