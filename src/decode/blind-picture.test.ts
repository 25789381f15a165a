import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { BLIND_SIDE, type BlindCut, blindPicture } from './blind-picture.ts';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-blind-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

/** A warm membrane, brighter to the right, with a blue square right of (200, 150). */
async function photo(
  name: string,
  of: (x: number, y: number) => readonly [number, number, number],
): Promise<string> {
  const [width, height] = [400, 300];
  const data = Buffer.alloc(width * height * 3);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) data.set(of(x, y), (y * width + x) * 3);
  const file = path.join(folder, name);
  await sharp(data, { raw: { width, height, channels: 3 } })
    .withExif({ IFD0: { Copyright: 'run worn-1' } })
    .png()
    .toFile(file);
  return file;
}
const blue = (x: number, y: number): boolean => x >= 220 && x < 240 && y >= 145 && y < 155;
const warm = (x: number, y: number): readonly [number, number, number] =>
  blue(x, y) ? [40, 60, 160] : [150 + x / 8, 140 + x / 8, 110 + x / 8];
const cut: BlindCut = { centrePx: [200, 150], widthPx: 120, turnDeg: 0, mirrored: false };

async function seen(file: string, more: Partial<BlindCut> = {}) {
  const made = await blindPicture(file, 'p.png', { ...cut, ...more });
  if (!made.ok) throw new Error(made.refusal.message);
  const { data, info } = await sharp(made.value).raw().toBuffer({ resolveWithObject: true });
  const at = (x: number, y: number): number[] => {
    const start = (Math.round(y * BLIND_SIDE) * BLIND_SIDE + Math.round(x * BLIND_SIDE)) * 3;
    return [...data.subarray(start, start + 3)];
  };
  return { at, info, bytes: made.value };
}

describe('a picture for scoring blind', () => {
  it('has the same plain ground everywhere and in every photograph', async () => {
    const file = await photo('warm.png', warm);
    const dim = await photo('dim.png', (x, y) => warm(x, y).map((v) => v * 0.7) as never);
    for (const picture of [await seen(file), await seen(dim)]) {
      for (const [x, y] of [
        [0.5, 0.1],
        [0.1, 0.5],
        [0.5, 0.9],
        [0.02, 0.02],
      ] as const) {
        for (const value of picture.at(x, y)) expect(Math.abs(value - 224)).toBeLessThan(6);
      }
      expect(picture.info).toMatchObject({ width: BLIND_SIDE, height: BLIND_SIDE });
    }
  });

  it('is turned and mirrored as drawn', async () => {
    const file = await photo('turn.png', warm);
    const isPiece = ([r, , b]: number[]): boolean => b! - r! > 60;
    // the piece lies 30 px right of the middle of a cut 120 px wide: at 0.75 of the side
    expect(isPiece((await seen(file)).at(0.75, 0.5))).toBe(true);
    expect(isPiece((await seen(file, { mirrored: true })).at(0.25, 0.5))).toBe(true);
    const quarter = await seen(file, { turnDeg: 90 });
    expect([quarter.at(0.5, 0.25), quarter.at(0.5, 0.75)].filter(isPiece)).toHaveLength(1);
    expect(isPiece(quarter.at(0.75, 0.5))).toBe(false);
  });

  it('shows ground beyond the photograph and outside the circle, and carries no words', async () => {
    const file = await photo('edge.png', () => [30, 30, 200]);
    const edge = await seen(file, { centrePx: [5, 5] });
    for (const value of edge.at(0.3, 0.3)) expect(Math.abs(value - edge.at(0.01, 0.01)[0]!)).toBeLessThan(8);
    const meta = await sharp(edge.bytes).metadata();
    expect([meta.exif, meta.xmp, meta.iptc]).toEqual([undefined, undefined, undefined]);
    expect(Buffer.from(edge.bytes).includes('worn-1')).toBe(false);
  });

  it('refuses a place off the photograph and a file that is no photograph', async () => {
    const file = await photo('off.png', warm);
    const off = await blindPicture(file, 'p.png', { ...cut, centrePx: [9000, 9000] });
    expect(off).toMatchObject({ ok: false, refusal: { why: 'off-the-photo' } });
    const text = path.join(folder, 'text.png');
    fs.writeFileSync(text, 'a poem');
    expect((await blindPicture(text, 'text.png', cut)).ok).toBe(false);
    await expect(blindPicture(file, 'p.png', { ...cut, widthPx: 0 })).rejects.toThrow(RangeError);
  });
});
