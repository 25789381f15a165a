import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { DrawnPhoto } from './photograph.ts';

/** Writes a drawn photograph as JPEG (or PNG, by the ending of its path) and its truth beside it as .truth.json. */
export async function writePhoto(path: string, photo: DrawnPhoto, quality = 88): Promise<void> {
  const raw = { width: photo.width, height: photo.height, channels: 3 as const };
  const image = sharp(photo.pixels, { raw });
  const bytes = path.endsWith('.png')
    ? await image.png({ compressionLevel: 6 }).toBuffer()
    : await image.jpeg({ quality, chromaSubsampling: '4:2:0' }).toBuffer();
  await writeFile(path, bytes);
  await writeFile(path.replace(/\.[a-z]+$/, '.truth.json'), `${JSON.stringify(photo.truth, null, 1)}\n`);
}
