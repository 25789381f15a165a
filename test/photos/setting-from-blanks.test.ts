/**
 * The setting learnt from blank photographs of one membrane, held to other photographs of the same membrane. Drawn, with
 * seeds: one membrane on which the usual setting finds too much (few electrons, sharpened: coarse grain), one calmer.
 */
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import {
  type FalseFindRate,
  falseFindRate,
  nextToAsk,
  type SearchedBlank,
  settingThatHolds,
} from '../../src/science/counting/index.ts';
import { classicalFinder, type Picture } from '../../src/science/imaging/index.ts';
import { umPerPx } from '../../src/units/index.ts';
import { composePhoto } from './drawing/compose.ts';
import { recipesOf } from './drawing/sets.ts';
import { openPhoto } from './open-photo.ts';

/** As few as can tell anything of half a false find a photograph. */
const PHOTOGRAPHS = 6;
const UM_PER_PX = 6.5;
const GRAINY = { well: 250, sharpening: 0.7 };
const CALM = { well: 800, sharpening: 0 };

/** Bare membrane: no print, nothing on it. */
async function bare(seed: number, camera: typeof CALM): Promise<Picture> {
  const blank = recipesOf('blank', 'tuned')[0]!;
  const photo = composePhoto({
    ...blank,
    seed,
    width: 480,
    height: 360,
    umPerPx: UM_PER_PX,
    ground: { ...blank.ground, pores: 1 },
    grid: null,
    rings: 0,
    stains: 0,
    scratches: 0,
    edge: null,
    camera: { ...blank.camera, ...camera },
  });
  const raw = { width: photo.width, height: photo.height, channels: 3 as const };
  return openPhoto(await sharp(photo.pixels, { raw }).jpeg({ quality: 60 }).toBuffer());
}

const membrane = (camera: typeof CALM, seed: number, photographs = PHOTOGRAPHS): Promise<Picture[]> =>
  Promise.all(Array.from({ length: photographs }, (_, at) => bare(seed + at, camera)));

function rateAt(photos: readonly Picture[], asked: number): FalseFindRate {
  const blanks = photos.map((photo): SearchedBlank => {
    const { particles, searchedFraction } = classicalFinder.find(photo, {
      scale: { from: 'given', scale: umPerPx(UM_PER_PX) },
      smallest: null,
      falseFindsPerBlank: asked,
    });
    return { searched: searchedFraction, falseFinds: particles.length, undecided: 0 };
  });
  return falseFindRate(asked, blanks, 0.95);
}

function learn(photos: readonly Picture[], wanted: number) {
  const rates: FalseFindRate[] = [];
  for (let ask = nextToAsk(rates, wanted); ask !== null; ask = nextToAsk(rates, wanted)) {
    rates.push(rateAt(photos, ask));
  }
  return settingThatHolds(rates, wanted);
}

const WANTED = 0.5;

describe('the setting learnt from blank photographs', () => {
  it('brings a grainy membrane to the wanted rate on other photographs, where the usual one does not', async () => {
    const told = learn(await membrane(GRAINY, 7000), WANTED);
    if (!told.told) throw new Error(told.why);
    expect(told.ask).toBeLessThan(WANTED);
    const others = await membrane(GRAINY, 8000);
    expect(rateAt(others, WANTED).most.lower).toBeGreaterThan(WANTED);
    expect(rateAt(others, told.ask).most.lower).toBeLessThanOrEqual(WANTED);
  }, 400_000);

  it('asks for more on a calm membrane, and no more than wanted is found on other photographs', async () => {
    const told = learn(await membrane(CALM, 7000), WANTED);
    if (!told.told) throw new Error(told.why);
    expect(told.ask).toBeGreaterThan(WANTED);
    const { most } = rateAt(await membrane(CALM, 8000), told.ask);
    expect(most.lower).toBeLessThanOrEqual(WANTED);
  }, 400_000);

  it('is not told from five photographs, whatever is found on them', async () => {
    const few = await membrane(CALM, 7000, PHOTOGRAPHS - 1);
    expect(learn(few, WANTED)).toMatchObject({ told: false, why: 'too-few', needed: 6 });
  }, 120_000);
});
