import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { piecePictures } from './index.ts';

describe('pieces cut for a report', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pieces-'));
  const photo = join(folder, 'photo.png');
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  beforeAll(async () => {
    // White with a red square at 40…60.
    const red = await sharp({ create: { width: 20, height: 20, channels: 3, background: '#ff0000' } })
      .png()
      .toBuffer();
    await sharp({ create: { width: 100, height: 80, channels: 3, background: '#ffffff' } })
      .composite([{ input: red, left: 40, top: 40 }])
      .png()
      .toFile(photo);
  });

  const at = async (image: string, x: number, y: number): Promise<readonly number[]> => {
    const bytes = Buffer.from(image.replace(/^data:image\/jpeg;base64,/, ''), 'base64');
    const { data, info } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
    const from = (Math.floor(y * info.height) * info.width + Math.floor(x * info.width)) * info.channels;
    return [...data.subarray(from, from + 3)];
  };

  it('shows what is there, grey beyond the edge, and nothing for what lies outside', async () => {
    const made = await piecePictures(photo, 'photo.png', [
      { centrePx: [50, 50], widthPx: 40 },
      { centrePx: [2, 2], widthPx: 40 },
      { centrePx: [500, 500], widthPx: 40 },
    ]);
    if (!made.ok) throw new Error(made.refusal.message);
    const [middle, corner, outside] = made.value;
    const [r, g] = await at(middle!, 0.5, 0.5);
    expect(r).toBeGreaterThan(240);
    expect(g).toBeLessThan(20);
    expect((await at(middle!, 0.1, 0.1))[1]).toBeGreaterThan(240);
    expect(Math.abs((await at(corner!, 0.2, 0.2))[0]! - 128)).toBeLessThan(6);
    expect(outside).toBeNull();
  });

  it('one alone is cut like one of several', async () => {
    const square = { centrePx: [50, 50], widthPx: 40 } as const;
    const alone = await piecePictures(photo, 'photo.png', [square]);
    const several = await piecePictures(photo, 'photo.png', [square, square]);
    expect(alone.ok && several.ok && alone.value[0] === several.value[0]).toBe(true);
  });

  it('refuses a file that is no photograph, and a square of no width', async () => {
    expect((await piecePictures(join(folder, 'none.png'), 'none.png', [])).ok).toBe(false);
    await expect(piecePictures(photo, 'photo.png', [{ centrePx: [5, 5], widthPx: 0 }])).rejects.toThrow(
      RangeError,
    );
  });
});
