/** Pictures for scoring without knowing: a round cut of a photograph, turned, its ground evened, nothing else on it. */
import sharp from 'sharp';
import { done, type Outcome, refused } from '../units/index.ts';
import { broken } from './decode-photo.ts';
import { fitGround, groundAt } from './even-ground.ts';
import { readHead } from './photo-head.ts';
import { OPENING } from './pixels.ts';

/** What of the upright photograph is shown, and how it is turned. */
export interface BlindCut {
  readonly centrePx: readonly [x: number, y: number];
  readonly widthPx: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
}

/** Side of the picture. */
export const BLIND_SIDE = 640;
/** The ground of every picture, whatever its membrane, lamp and exposure were. */
const LIGHT_GROUND = 224;
const DARK_GROUND = 44;
/** Below this a membrane is taken for a dark one. */
const DARK = 80;
/** A larger cut is reduced before it is turned. */
const MOST_REGION = 1400;

/**
 * The cut as JPEG: a circle (so that no corner tells how it lay), turned and perhaps mirrored, the ground made the same plain
 * shade in every picture; outside the photograph and outside the circle there is ground. No name, place or time is in it.
 */
export async function blindPicture(path: string, name: string, cut: BlindCut): Promise<Outcome<Uint8Array>> {
  if (!(cut.widthPx > 0))
    throw new RangeError(`blind picture: a width above 0 px is needed, given ${cut.widthPx}`);
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const { width, height } = head.value;
  const [cx, cy] = cut.centrePx;
  const reach = Math.ceil(cut.widthPx / 2) + 2;
  const left = Math.max(0, Math.floor(cx - reach));
  const top = Math.max(0, Math.floor(cy - reach));
  const right = Math.min(width, Math.ceil(cx + reach));
  const bottom = Math.min(height, Math.ceil(cy + reach));
  if (right - left < 2 || bottom - top < 2) {
    return refused({
      why: 'off-the-photo',
      message: `“${name}”: the place to be shown lies outside the photograph.`,
    });
  }
  const shrink = Math.min(1, MOST_REGION / Math.max(right - left, bottom - top));
  let region: { data: Buffer; info: { width: number; height: number; channels: number } };
  try {
    region = await sharp(path, OPENING)
      .autoOrient()
      .flatten({ background: '#ffffff' })
      .extract({ left, top, width: right - left, height: bottom - top })
      .resize(
        Math.max(2, Math.round((right - left) * shrink)),
        Math.max(2, Math.round((bottom - top) * shrink)),
        {
          fit: 'fill',
        },
      )
      .toColourspace('srgb')
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
  } catch (error) {
    return broken(error, path, name, head.value);
  }
  const pixels = turned(region, cut, [(cx - left) * shrink, (cy - top) * shrink], cut.widthPx * shrink);
  return done(
    await sharp(pixels, { raw: { width: BLIND_SIDE, height: BLIND_SIDE, channels: 3 } })
      .jpeg({ quality: 90 })
      .toBuffer(),
  );
}

function turned(
  {
    data,
    info,
  }: { readonly data: Buffer; readonly info: { width: number; height: number; channels: number } },
  { turnDeg, mirrored }: BlindCut,
  [cx, cy]: readonly [number, number],
  widthPx: number,
): Uint8Array {
  const { width, height, channels } = info;
  const grounds = [0, 1, 2].map((c) => fitGround(data, width, height, channels, Math.min(c, channels - 1)));
  const dark = grounds[1]!.middle < DARK;
  const plain = dark ? DARK_GROUND : LIGHT_GROUND;
  const out = new Uint8Array(BLIND_SIDE * BLIND_SIDE * 3).fill(plain);
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  const half = BLIND_SIDE / 2;
  for (let v = 0; v < BLIND_SIDE; v++) {
    for (let u = 0; u < BLIND_SIDE; u++) {
      const a = ((u + 0.5 - half) / half) * (mirrored ? -1 : 1);
      const b = (v + 0.5 - half) / half;
      if (a * a + b * b > 1) continue;
      const x = cx + ((a * cos - b * sin) * widthPx) / 2 - 0.5;
      const y = cy + ((a * sin + b * cos) * widthPx) / 2 - 0.5;
      if (x < 0 || y < 0 || x > width - 1 || y > height - 1) continue;
      const x0 = Math.min(width - 2, Math.floor(x));
      const y0 = Math.min(height - 2, Math.floor(y));
      const fx = x - x0;
      const fy = y - y0;
      for (let c = 0; c < 3; c++) {
        const at = (y0 * width + x0) * channels + Math.min(c, channels - 1);
        const upper = data[at]! * (1 - fx) + data[at + channels]! * fx;
        const below = at + width * channels;
        const lower = data[below]! * (1 - fx) + data[below + channels]! * fx;
        const seen = upper * (1 - fy) + lower * fy;
        const ground = groundAt(grounds[c]!, x, y);
        const even = dark ? seen + (plain - ground) : (seen * plain) / Math.max(1, ground);
        out[(v * BLIND_SIDE + u) * 3 + c] = Math.min(255, Math.max(0, Math.round(even)));
      }
    }
  }
  return out;
}
