import sharp from 'sharp';
import type { Picture } from '../science/imaging/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { brightestOf, fullOf } from './bits-in-use.ts';
import { diagnose } from './damage.ts';
import type { PhotoHead } from './photo-head.ts';
import type { PhotoRefusal } from './photo-refusal.ts';
import { OPENING, pixelsOf, upright } from './pixels.ts';

/** Upright, sRGB or grey, 8 or 16 bits as in the file; the whole picture in memory. For photographs up to `WHOLE_PIXELS`. */
export async function decodePhoto(
  path: string,
  name: string,
  head: PhotoHead,
): Promise<Outcome<Picture, PhotoRefusal>> {
  try {
    const picture = await pixelsOf(upright(path, head), head);
    return done(
      picture.data instanceof Uint16Array ? { ...picture, full: fullOf(brightestOf(picture.data)) } : picture,
    );
  } catch (error) {
    return broken(error, path, name, head);
  }
}

/** Reads every pixel once in little memory, to be sure that the file is sound; refuses it where it is not. */
export async function verifyPhoto(
  path: string,
  name: string,
  head: PhotoHead,
): Promise<Outcome<PhotoHead, PhotoRefusal>> {
  try {
    // A small result lets JPEG be read at an eighth of its size; every byte is still parsed.
    await sharp(path, OPENING)
      .resize(64, 64, { fit: 'inside', kernel: 'nearest', fastShrinkOnLoad: true })
      .raw()
      .toBuffer();
    return done(head);
  } catch (error) {
    return broken(error, path, name, head);
  }
}

/** Failures of the decoder speak of the file; anything the system refused (disk, memory) is thrown on. */
export function broken(
  error: unknown,
  path: string,
  name: string,
  head: Pick<PhotoHead, 'format' | 'bytes'>,
) {
  const text = error instanceof Error ? error.message : '';
  if (/ENOSPC|out of memory|unable to (write|create)|No space/i.test(text)) throw error;
  return diagnose(path, name, head.format, head.bytes);
}
