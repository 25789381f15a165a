/** One piece cut out of a photograph for a report: as it is, upright, nothing evened or turned. */
import sharp from 'sharp';
import { done, type Outcome, refused } from '../units/index.ts';
import { readHead } from './photo-head.ts';
import { OPENING } from './pixels.ts';

const SIDE = 200;

/**
 * A square of the upright photograph as a small JPEG, as a data: address. What lies beyond the edge of the photograph is plain grey.
 */
export async function piecePicture(
  path: string,
  name: string,
  square: { readonly centrePx: readonly [number, number]; readonly widthPx: number },
): Promise<Outcome<string>> {
  if (!(square.widthPx >= 2))
    throw new RangeError(`piece picture: a width from 2 px is needed, given ${square.widthPx}`);
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const { width, height } = head.value;
  const [cx, cy] = square.centrePx;
  const from = (centre: number) => Math.round(centre - square.widthPx / 2);
  const [x0, y0] = [from(cx), from(cy)];
  const [x1, y1] = [x0 + Math.round(square.widthPx), y0 + Math.round(square.widthPx)];
  const [left, top] = [Math.max(0, x0), Math.max(0, y0)];
  const [right, bottom] = [Math.min(width, x1), Math.min(height, y1)];
  if (right - left < 2 || bottom - top < 2)
    return refused({
      why: 'off-the-photo',
      message: `“${name}”: the piece to be shown lies outside the photograph.`,
    });
  const cut = await sharp(path, OPENING)
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .extract({ left, top, width: right - left, height: bottom - top })
    .toColourspace('srgb')
    .png()
    .toBuffer();
  const jpeg = await sharp(cut)
    .extend({
      left: left - x0,
      top: top - y0,
      right: x1 - right,
      bottom: y1 - bottom,
      background: '#808080',
    })
    .png()
    .toBuffer()
    .then((whole) => sharp(whole).resize(SIDE, SIDE, { fit: 'fill' }).jpeg({ quality: 80 }).toBuffer());
  return done(`data:image/jpeg;base64,${jpeg.toString('base64')}`);
}
