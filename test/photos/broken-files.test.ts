import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp, { type Metadata } from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { writeBrokenFiles } from './broken-files.ts';
import { oneColourPng } from './one-colour-png.ts';

const folder = mkdtempSync(join(tmpdir(), 'retentate-broken-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a large picture of one colour', () => {
  it('is a valid PNG of that colour to its last row', async () => {
    const { data, info } = await sharp(oneColourPng(300, 240, [7, 130, 201]))
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect([info.width, info.height, info.channels]).toEqual([300, 240, 3]);
    for (let i = 0; i < data.length; i += 3) {
      if (data[i] !== 7 || data[i + 1] !== 130 || data[i + 2] !== 201)
        throw new Error(`wrong colour at byte ${i}`);
    }
  });
});

describe('odd files', () => {
  it('are what they say: those that ought to be read decode, with the right size, depth and space', async () => {
    const files = await writeBrokenFiles(folder);
    for (const file of files.filter((f) => f.ought !== 'refused')) {
      const { info } = await sharp(file.path).autoOrient().raw().toBuffer({ resolveWithObject: true });
      expect([file.name, info.width, info.height]).toEqual([file.name, 1200, 900]);
    }
    const of = (name: string): Promise<Metadata> =>
      sharp(files.find((f) => f.name === name)!.path, { limitInputPixels: false }).metadata();
    expect((await of('cmyk.jpg')).space).toBe('cmyk');
    expect((await of('turned.jpg')).orientation).toBe(6);
    expect((await of('grey-alpha.png')).channels).toBe(2);
    expect((await of('twelve-bit.png')).depth).toBe('ushort');
    expect((await of('twelve-bit.tif')).depth).toBe('ushort');
    expect((await of('giant.png')).width).toBe(60_000);
  });
});
