import sharp from 'sharp';
import type { Picture } from '../../src/science/imaging/index.ts';

/** A stored photograph as pixels: upright, sRGB, eight bits. */
export async function openPhoto(path: string | Buffer): Promise<Picture> {
  const { data, info } = await sharp(path, { limitInputPixels: false })
    .autoOrient()
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return {
    width: info.width,
    height: info.height,
    channels: info.channels === 1 ? 1 : 3,
    data: new Uint8Array(data.buffer, data.byteOffset, data.byteLength),
    full: 255,
  };
}
