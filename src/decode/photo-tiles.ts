import { mkdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { threadId } from 'node:worker_threads';
import sharp from 'sharp';
import { TILE_PX } from '../api/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { brightestOf, fullOf } from './bits-in-use.ts';
import { type BlindCut, blindPicture } from './blind-picture.ts';
import { readHead } from './photo-head.ts';
import { OPENING } from './pixels.ts';

/** Tiles of photographs, made once and kept; they can be thrown away and are made again. */
export interface PhotoTiles {
  /**
   * One tile as JPEG. `original` gives a path to read from while `use` runs. A tile outside the pyramid is refused
   * (`no-such-tile`).
   */
  tile(
    sha256: string,
    at: { readonly level: number; readonly column: number; readonly row: number },
    original: <T>(use: (path: string) => Promise<T>) => Promise<T>,
  ): Promise<Outcome<Uint8Array>>;
  /** A cut for scoring without knowing, as JPEG; no name goes in. */
  blind(path: string, cut: BlindCut): Promise<Outcome<Uint8Array>>;
}

const noTile = (what: string): Outcome<never, Refusal> =>
  refused({
    why: 'no-such-tile',
    message: `There is no tile ${what} of this photograph; read its measures anew.`,
  });

export function photoTiles(folder: string): PhotoTiles {
  const making = new Map<string, Promise<Outcome<void>>>();

  async function make(sha256: string, path: string): Promise<Outcome<void>> {
    const head = await readHead(path, sha256);
    if (!head.ok) return head;
    await keepTiles(folder, sha256, path, head.value.bits);
    return done(undefined);
  }

  return {
    blind: (path, cut) => blindPicture(path, 'the photograph', cut),
    async tile(sha256, { level, column, row }, original) {
      if (!/^[0-9a-f]{64}$/.test(sha256))
        throw new RangeError(`hash: 64 hexadecimal digits are needed, given ${sha256}`);
      const name = `${level}/${column}_${row}`;
      if (![level, column, row].every((n) => Number.isSafeInteger(n) && n >= 0)) return noTile(name);
      const home = join(folder, sha256);
      if (!(await exists(home))) {
        const under = making.get(sha256) ?? original((path) => make(sha256, path));
        making.set(sha256, under);
        try {
          const made = await under;
          if (!made.ok) return made;
        } finally {
          making.delete(sha256);
        }
      }
      try {
        return done(await readFile(join(home, String(level), `${column}_${row}.jpeg`)));
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === 'ENOENT') return noTile(name);
        throw error;
      }
    },
  };
}

/** Makes the tiles of a photograph beside and moves them into place, so that a killed process leaves no half pyramid that looks whole. */
export async function keepTiles(folder: string, sha256: string, path: string, bits: 8 | 16): Promise<void> {
  const home = join(folder, sha256);
  if (await exists(home)) return;
  const beside = join(folder, `.making-${sha256}-${process.pid}-${threadId}`);
  await rm(beside, { recursive: true, force: true });
  await mkdir(beside, { recursive: true });
  try {
    await writePyramid(path, bits, join(beside, 'photo.dz'));
    await rename(join(beside, 'photo_files'), home);
  } catch (error) {
    // Somebody else may have been quicker: theirs are the same.
    if (!(await exists(home))) throw error;
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}

/** One pass over the photograph, in little memory whatever its size. */
async function writePyramid(path: string, bits: 8 | 16, into: string): Promise<void> {
  const turned = sharp(path, OPENING).autoOrient().flatten({ background: '#ffffff' });
  const bright = bits === 16 ? await stretch(path) : 1;
  // 16-bit data that uses a part of its range would be black to the eye; tiles are for looking, so it is stretched.
  const visible = bright === 1 ? turned : turned.linear(bright, 0);
  await visible
    .toColourspace('srgb')
    .jpeg({ quality: 85 })
    .tile({ size: TILE_PX, overlap: 0, layout: 'dz', depth: 'onetile' })
    .toFile(into);
}

/** How many times brighter 16-bit data becomes when its own white is taken for white; judged on a reduced copy. */
async function stretch(path: string): Promise<number> {
  const { data } = await sharp(path, OPENING)
    .resize(1024, 1024, { fit: 'inside', kernel: 'nearest' })
    .toColourspace('rgb16')
    .raw({ depth: 'ushort' })
    .toBuffer({ resolveWithObject: true });
  return 65535 / fullOf(brightestOf(new Uint16Array(data.buffer, data.byteOffset, data.length / 2)));
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch {
    return false;
  }
}
