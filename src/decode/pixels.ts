import sharp, { type Sharp } from 'sharp';
import type { Picture } from '../science/imaging/index.ts';
import type { PhotoHead } from './photo-head.ts';

/** Options for every opening: our own pixel limit is judged before; damage is an error, never a grey patch. */
export const OPENING = { limitInputPixels: false, failOn: 'warning', sequentialRead: true } as const;
/** For pictures this program wrote itself and reads in any order. */
export const OPENING_OWN = { limitInputPixels: false, failOn: 'error' } as const;

/** The colour space of the decoded picture: sRGB or grey, in the depth that the file has. Profiles are applied by libvips. */
export const spaceOf = (head: Pick<PhotoHead, 'bits' | 'channels'>): string =>
  head.bits === 16 ? (head.channels === 1 ? 'grey16' : 'rgb16') : head.channels === 1 ? 'b-w' : 'srgb';

/**
 * Upright, over white where it is transparent (as a membrane would show), in the colour space of the decoded picture.
 */
export function upright(path: string, head: Pick<PhotoHead, 'bits' | 'channels' | 'alpha'>): Sharp {
  const turned = sharp(path, OPENING).autoOrient();
  const opaque = head.alpha ? turned.flatten({ background: '#ffffff' }) : turned;
  return opaque.toColourspace(spaceOf(head));
}

/** Takes the pixels out of a pipeline. */
export async function pixelsOf(
  pipeline: Sharp,
  head: Pick<PhotoHead, 'bits' | 'channels'>,
): Promise<Picture> {
  const { data, info } = await pipeline
    .toColourspace(spaceOf(head))
    .raw({ depth: head.bits === 16 ? 'ushort' : 'uchar' })
    .toBuffer({ resolveWithObject: true });
  if (info.channels !== head.channels) {
    throw new RangeError(`decoded picture: ${head.channels} channels were announced, ${info.channels} came`);
  }
  const pixels =
    head.bits === 16
      ? new Uint16Array(data.buffer, data.byteOffset, data.length / 2)
      : new Uint8Array(data.buffer, data.byteOffset, data.length);
  const { width, height } = info;
  return { width, height, channels: head.channels, data: pixels, full: head.bits === 16 ? 65535 : 255 };
}
