/**
 * The short form of `npm run measure:photos`: a few small drawn photographs, held to floors that a sound finder clears
 * with room to spare. The floors guard against breakage; the figures that are told come from the whole sets.
 */
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { classicalFinder } from '../../src/science/imaging/index.ts';
import { mm } from '../../src/units/index.ts';
import { composePhoto, type TestRecipe } from './drawing/compose.ts';
import { recipesOf, type SetName } from './drawing/sets.ts';
import * as figures from './figures.ts';
import { type JudgedPhoto, judgePhoto } from './judge-photo.ts';
import { matchForms } from './match.ts';
import { openPhoto } from './open-photo.ts';

/** A quarter of a photograph of the set with a share of its pieces, through JPEG, found and judged. */
async function judgeSmall(
  set: SetName,
  index: number,
  change: Partial<TestRecipe> = {},
): Promise<JudgedPhoto> {
  const whole = recipesOf(set, 'tuned')[index]!;
  const recipe = {
    ...whole,
    width: 1200,
    height: 900,
    umPerPx: 6.5,
    things: whole.things.slice(0, 22),
    ...change,
  };
  const photo = composePhoto(recipe);
  const raw = { width: photo.width, height: photo.height, channels: 3 as const };
  const jpeg = await sharp(photo.pixels, { raw }).jpeg({ quality: recipe.jpegQuality }).toBuffer();
  const finding = classicalFinder.find(await openPhoto(jpeg), {
    scale: { from: 'printed-grid', pitch: mm(3.1) },
    smallest: null,
    falseFindsPerBlank: 0.5,
  });
  return judgePhoto(photo.truth, finding, null);
}

describe('the finder on small drawn photographs', () => {
  const photos: JudgedPhoto[] = [];
  beforeAll(async () => {
    for (const index of [1, 4, 12]) photos.push(await judgeSmall('ordinary', index));
  }, 120_000);

  it('finds most of what lies there and invents less than it finds', () => {
    expect(figures.recall(photos)!.value).toBeGreaterThan(0.8);
    expect(figures.precision(photos)!.value).toBeGreaterThan(0.5);
    expect(figures.f1(photos)!).toBeGreaterThan(0.65);
  });

  it('reads the scale from the print within one per cent, with two or three squares in view', () => {
    for (const photo of photos) expect(Math.abs(photo.scaleError ?? 1)).toBeLessThan(0.01);
  });

  it('measures the maximum Feret diameter without gross bias', () => {
    const errors = figures.errorsOf(photos, 'feret');
    expect(errors.length).toBeGreaterThan(30);
    expect(Math.abs(figures.median(errors))).toBeLessThan(0.1);
  });

  it('gives no scale where nothing is printed', async () => {
    const photo = await judgeSmall('scale', 2);
    expect(photo.gridPrinted).toBe(false);
    expect(photo.scaleFound).toBe(false);
  }, 60_000);
});

describe('the judge', () => {
  const square = (x: number, y: number, size: number) =>
    [
      [x, y],
      [x + size, y],
      [x + size, y + size],
      [x, y + size],
    ] as const;
  const truth = (x: number, y: number, size: number) => ({
    outline: square(x, y, size),
    line: null,
    halfPx: 0,
    feretPx: size * Math.SQRT2,
  });
  const find = (x: number, y: number, size: number) => ({
    outline: square(x, y, size),
    feretPx: size * Math.SQRT2,
  });

  it('matches one find with one piece, the better pair first', () => {
    const pairs = matchForms(
      [truth(0, 0, 10), truth(10, 0, 10)],
      [find(1, 0, 10), find(0, 0, 10), find(100, 0, 10)],
    );
    expect(pairs.map((p) => [p.truth, p.find])).toEqual([[0, 1]]);
  });

  it('does not take one find over two pieces for both', () => {
    const both = {
      outline: [
        [0, 0],
        [20, 0],
        [20, 10],
        [0, 10],
      ] as const,
      feretPx: Math.hypot(20, 10),
    };
    expect(matchForms([truth(0, 0, 10), truth(10, 0, 10)], [both])).toHaveLength(1);
  });

  // Wilson 1927 as tabulated in textbooks: 8 of 10 gives 0.490 to 0.943 at 95 %.
  it('gives the Wilson interval of a share', () => {
    const { lower, upper } = figures.wilson(8, 10);
    expect(lower).toBeCloseTo(0.4902, 4);
    expect(upper).toBeCloseTo(0.9433, 4);
  });
});
