import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn, plainTiff } from '../../test/journeys/broken-photos.ts';
import { tilesOf } from '../api/index.ts';
import { umPerPx } from '../units/index.ts';
import { WHOLE_PIXELS } from './photo-strips.ts';
import { photoTiles } from './photo-tiles.ts';
import { searchPhoto } from './search-photo.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-tiles-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const HASH = 'a'.repeat(64);

async function all(name: string, bytes: Uint8Array, width: number, height: number, hash: string) {
  const path = join(folder, name);
  await writeFile(path, bytes);
  const tiles = photoTiles(join(folder, 'tiles'));
  const { levels, tile_px } = tilesOf(width, height);
  const sizes: Record<string, [number, number]> = {};
  for (let level = 0; level < levels; level++) {
    const factor = 2 ** (levels - 1 - level);
    for (let column = 0; column * tile_px * factor < width; column++) {
      for (let row = 0; row * tile_px * factor < height; row++) {
        const tile = await tiles.tile(hash, { level, column, row }, (use) => use(path));
        if (!tile.ok) throw new Error(tile.refusal.message);
        const meta = await sharp(tile.value).metadata();
        sizes[`${level}/${column}_${row}`] = [meta.width, meta.height];
      }
    }
  }
  return { tiles, path, sizes, levels };
}

describe('tiles', () => {
  it('are a pyramid of the upright photograph, as its layout says', async () => {
    const turned = await drawn(1300, 700).withMetadata({ orientation: 6 }).jpeg().toBuffer();
    const { tiles, path, sizes, levels } = await all('turned.jpg', turned, 700, 1300, HASH);
    expect(levels).toBe(3);
    expect(sizes['0/0_0']).toEqual([175, 325]);
    expect(sizes['2/1_2']).toEqual([700 - 512, 1300 - 1024]);
    const outside = await tiles.tile(HASH, { level: 2, column: 2, row: 0 }, (use) => use(path));
    expect(outside).toMatchObject({ ok: false, refusal: { why: 'no-such-tile' } });
    const above = await tiles.tile(HASH, { level: 3, column: 0, row: 0 }, (use) => use(path));
    expect(above).toMatchObject({ ok: false, refusal: { why: 'no-such-tile' } });
    expect((await readdir(join(folder, 'tiles'))).filter((name) => name.startsWith('.making'))).toEqual([]);
  });

  it('of 12 bits in 16 are as bright as the photograph is', async () => {
    const hash = 'b'.repeat(64);
    const data = new Uint16Array(200 * 100).fill(4000);
    const { tiles, path } = await all(
      'dim.tif',
      plainTiff(200, 100, 1, 16, new Uint8Array(data.buffer)),
      200,
      100,
      hash,
    );
    const tile = await tiles.tile(hash, { level: 0, column: 0, row: 0 }, (use) => use(path));
    if (!tile.ok) throw new Error(tile.refusal.message);
    const { channels } = await sharp(tile.value).stats();
    expect(channels[0]!.mean).toBeGreaterThan(240);
  });

  it('of a large photograph lie there after its search, made from the copy that was unpacked for it', async () => {
    const [width, height] = [6000, 5400];
    expect(width * height).toBeGreaterThan(WHOLE_PIXELS);
    const path = join(folder, 'large.png');
    const ground = sharp({ create: { width, height, channels: 3, background: '#d9d7cf' } });
    const dots = await drawn(600, 400).png().toBuffer();
    await ground
      .composite([{ input: dots, left: 5000, top: 4700 }])
      .png({ compressionLevel: 1 })
      .toFile(path);
    const [searched, looked] = ['c', 'd'].map((digit) => digit.repeat(64)) as [string, string];
    const made = join(folder, 'made');
    const wish = {
      scale: { from: 'given', scale: umPerPx(10) },
      smallest: null,
      falseFindsPerBlank: 0.5,
    } as const;
    const order = {
      path,
      name: 'large.png',
      wish,
      workFolder: folder,
      tiles: { folder: made, sha256: searched },
    };
    expect(await searchPhoto(order, () => {})).toMatchObject({ ok: true });
    expect(await readdir(made)).toEqual([searched]);
    const tiles = photoTiles(made);
    const at = { level: tilesOf(width, height).levels - 1, column: 10, row: 9 };
    const [one, other] = await Promise.all(
      [searched, looked].map((hash) => tiles.tile(hash, at, (use) => use(path))),
    );
    if (!one?.ok || !other?.ok) throw new Error('both tiles ought to be there');
    expect(Buffer.compare(one.value, other.value)).toBe(0);
    expect((await sharp(one.value).stats()).channels[0]!.stdev).toBeGreaterThan(1);
  });

  it('never take a hash for a path', async () => {
    const tiles = photoTiles(join(folder, 'tiles'));
    await expect(tiles.tile('../../etc', { level: 0, column: 0, row: 0 }, (use) => use(''))).rejects.toThrow(
      RangeError,
    );
  });
});
