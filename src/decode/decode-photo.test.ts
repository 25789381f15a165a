import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { brokenPhotos, dots, drawn, ODD_NAMES, plainTiff } from '../../test/journeys/broken-photos.ts';
import { decodePhoto, verifyPhoto } from './decode-photo.ts';
import { readHead } from './photo-head.ts';
import { openStrips } from './photo-strips.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-decode-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function put(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

async function decoded(name: string, bytes: Uint8Array) {
  const path = await put(name, bytes);
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const sound = await verifyPhoto(path, name, head.value);
  const whole = await decodePhoto(path, name, head.value);
  if (sound.ok !== whole.ok) throw new Error(`${name}: verifying and decoding disagree`);
  return whole;
}

async function picture(name: string, bytes: Uint8Array) {
  const outcome = await decoded(name, bytes);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}

describe('a file that is no sound photograph', () => {
  it('is refused in one sentence that names it, with little memory', async () => {
    const before = process.memoryUsage().rss;
    for (const { name, bytes, why, says } of await brokenPhotos()) {
      const outcome = await decoded(name, bytes);
      expect(outcome.ok, name).toBe(false);
      if (outcome.ok) continue;
      expect(outcome.refusal.why, name).toBe(why);
      expect(outcome.refusal.message).toMatch(says);
      expect(outcome.refusal.message).toContain(name);
      expect(outcome.refusal.message.match(/\.(\s|$)/g), outcome.refusal.message).toHaveLength(1);
      expect(outcome.refusal.message).not.toContain(folder);
    }
    expect(process.memoryUsage().rss - before).toBeLessThan(300e6);
  });

  it('may be missing, or a folder', async () => {
    expect(await readHead(join(folder, 'none.jpg'), 'none.jpg')).toMatchObject({
      refusal: { why: 'not-found' },
    });
    expect(await readHead(folder, 'folder')).toMatchObject({ refusal: { why: 'not-a-file' } });
    expect(await readHead('zero\0byte.jpg', 'zero\0byte.jpg')).toMatchObject({
      refusal: { why: 'not-found' },
    });
  });
});

describe('an odd name', () => {
  it.each(ODD_NAMES)('does not matter: %j', async (name) => {
    expect(await picture(name, await drawn().jpeg().toBuffer())).toMatchObject({ width: 400, height: 300 });
  });

  it('is shown on one line', async () => {
    const outcome = await decoded('two\nlines\u202e.jpg', Buffer.from('x'));
    expect(outcome).toMatchObject({
      refusal: { message: expect.stringContaining('“two\\nlines\\u{202e}.jpg”') },
    });
  });
});

describe('a photograph', () => {
  it('keeps its values: PNG, TIFF packed and plain, grey and colour', async () => {
    const colour = dots(400, 300);
    for (const [name, bytes] of [
      ['a.png', await drawn().png().toBuffer()],
      ['a.tif', await drawn().tiff({ compression: 'lzw' }).toBuffer()],
      ['plain.tif', plainTiff(400, 300, 3, 8, colour)],
    ] as const) {
      const p = await picture(name, bytes);
      expect(p).toMatchObject({ width: 400, height: 300, channels: 3, full: 255 });
      expect(Buffer.compare(Buffer.from(p.data), colour), name).toBe(0);
    }
    const grey = await picture('grey.tif', plainTiff(400, 300, 1, 8, dots(400, 300, 1)));
    expect(grey).toMatchObject({ channels: 1, full: 255 });
    expect(Buffer.compare(Buffer.from(grey.data), dots(400, 300, 1))).toBe(0);
  });

  it('stands upright by its EXIF orientation', async () => {
    const p = await picture('turned.jpg', await drawn().withMetadata({ orientation: 6 }).jpeg().toBuffer());
    expect(p).toMatchObject({ width: 300, height: 400 });
    // Orientation 6: the stored left edge is the top, so the stored bottom left corner comes to the top left.
    const stored = await drawn().extract({ left: 0, top: 299, width: 1, height: 1 }).raw().toBuffer();
    expect(Math.abs(p.data[0]! - stored[0]!)).toBeLessThan(12);
  });

  it.each([
    [4095, 4095],
    [1023, 1023],
    [16383, 16383],
    [65535, 65535],
    [300, 1023],
  ])('with 16 bits and a brightest value of %i has white at %i', async (brightest, full) => {
    const data = new Uint16Array(400 * 300).fill(brightest);
    for (let i = 0; i < data.length; i += 3) data[i] = Math.floor(brightest / 2);
    const p = await picture(`${brightest}.tif`, plainTiff(400, 300, 1, 16, new Uint8Array(data.buffer)));
    expect(p).toMatchObject({ channels: 1, full });
    expect([...p.data.slice(0, 4)]).toEqual([...data.slice(0, 4)]);
  });

  it('with 16-bit colour keeps 16 bits', async () => {
    const data = new Uint16Array(64 * 48 * 3).map((_, i) => (i * 2654) % 65536);
    const p = await picture('16.tif', plainTiff(64, 48, 3, 16, new Uint8Array(data.buffer)));
    expect(p.channels).toBe(3);
    expect([...p.data]).toEqual([...data]);
  });

  it('in CMYK becomes colour', async () => {
    const cmyk = await drawn().toColourspace('cmyk').jpeg({ quality: 95 }).toBuffer();
    expect((await sharp(cmyk).metadata()).space).toBe('cmyk');
    const p = await picture('cmyk.jpg', cmyk);
    expect(p.channels).toBe(3);
    expect(Math.abs(p.data[(150 * 400 + 200) * 3]! - 225)).toBeLessThan(12);
  });

  it('in a wide colour space is brought to sRGB, within the rounding of 8 bits', async () => {
    const p3 = await drawn().withIccProfile('p3').png().toBuffer();
    const stored = await sharp(p3).metadata();
    expect(stored.hasProfile).toBe(true);
    const p = await picture('p3.png', p3);
    const truth = dots(400, 300);
    let most = 0;
    for (let i = 0; i < truth.length; i++) most = Math.max(most, Math.abs(truth[i]! - p.data[i]!));
    expect(most).toBeLessThanOrEqual(4);
  });

  it('with a broken or unfit colour profile is read all the same', async () => {
    const jpeg = await drawn().withIccProfile('p3').jpeg().toBuffer();
    const at = jpeg.indexOf('ICC_PROFILE', 0, 'latin1');
    jpeg.fill(0xff, at + 20, at + 400);
    expect(await picture('icc.jpg', jpeg)).toMatchObject({ width: 400, channels: 3 });
  });

  it('that is grey with transparency lies over white', async () => {
    const data = Buffer.alloc(64 * 64 * 2);
    for (let i = 0; i < data.length; i += 2) data.set([100, i % 4 === 0 ? 255 : 0], i);
    const png = await sharp(data, { raw: { width: 64, height: 64, channels: 2 } })
      .toColourspace('b-w')
      .png()
      .toBuffer();
    const p = await picture('alpha.png', png);
    expect(p.channels).toBe(1);
    expect([...p.data.slice(0, 4)]).toEqual([100, 255, 100, 255]);
  });
});

describe('strips', () => {
  it.each(['png', 'tiff'] as const)('give the same pixels as the whole picture: %s', async (format) => {
    const name = `strips.${format}`;
    const path = await put(
      name,
      await (format === 'png'
        ? drawn(700, 1300).png()
        : drawn(700, 1300).tiff({ compression: 'lzw' })
      ).toBuffer(),
    );
    const head = await readHead(path, name);
    if (!head.ok) throw new Error(head.refusal.message);
    const opened = await openStrips(path, name, head.value, folder);
    if (!opened.ok) throw new Error(opened.refusal.message);
    const { strips } = opened.value;
    const parts: Uint8Array[] = [];
    for (let top = 0; top < strips.height; top += 300) {
      parts.push((await strips.strip(top, Math.min(300, strips.height - top))).data as Uint8Array);
    }
    expect(Buffer.compare(Buffer.concat(parts), dots(700, 1300))).toBe(0);
    await expect(strips.strip(1200, 200)).rejects.toThrow(RangeError);
    await opened.value.close();
    expect((await readdir(folder)).filter((f) => f.startsWith('retentate-strips-'))).toEqual([]);
  });

  it('of a mosaic cut short are refused, and the working copy is gone', async () => {
    const plain = plainTiff(400, 300, 3, 8, dots(400, 300));
    const path = await put('cut.tif', plain.subarray(0, plain.length / 2));
    const head = await readHead(path, 'cut.tif');
    if (!head.ok) throw new Error(head.refusal.message);
    expect(await openStrips(path, 'cut.tif', head.value, folder)).toMatchObject({
      refusal: { why: 'cut-short' },
    });
    expect((await readdir(folder)).filter((f) => f.startsWith('retentate-strips-'))).toEqual([]);
  });

  it.each([0.1, 0.5, 0.9, 0.995])('of a tiled mosaic cut at %d of its bytes are refused', async (share) => {
    const tiled = await drawn(1200, 900)
      .tiff({ compression: 'jpeg', tile: true, tileWidth: 256, tileHeight: 256, bigtiff: true })
      .toBuffer();
    const path = await put('tiled.tif', tiled.subarray(0, Math.floor(tiled.length * share)));
    const head = await readHead(path, 'tiled.tif');
    const opened = head.ok ? await openStrips(path, 'tiled.tif', head.value, folder) : head;
    expect(opened).toMatchObject({ ok: false, refusal: { why: 'cut-short' } });
    expect((await readdir(folder)).filter((f) => f.startsWith('retentate-strips-'))).toEqual([]);
  });
});
