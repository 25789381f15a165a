/** Pieces cut out of a photograph for a report: as they are, upright, nothing evened or turned. */
import sharp, { type Sharp } from 'sharp';
import { done, type Outcome } from '../units/index.ts';
import { readHead } from './photo-head.ts';
import { OPENING } from './pixels.ts';

const SIDE = 200;
/** Up to here a photograph is opened once for all its pieces; a larger one is opened for each, in little memory. */
const MOST_HELD_PX = 60_000_000;

export interface PieceSquare {
  readonly centrePx: readonly [number, number];
  readonly widthPx: number;
}

/**
 * Squares of the upright photograph as small JPEGs, as data: addresses, in the order asked for; null for one that lies outside it.
 * What lies beyond the edge of the photograph is plain grey. Refuses a file that is no sound photograph.
 */
export async function piecePictures(
  path: string,
  name: string,
  squares: readonly PieceSquare[],
): Promise<Outcome<readonly (string | null)[]>> {
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const { width, height } = head.value;
  const upright = (): Sharp =>
    sharp(path, OPENING).autoOrient().flatten({ background: '#ffffff' }).toColourspace('srgb');
  let open = upright;
  if (squares.length > 1 && width * height <= MOST_HELD_PX) {
    const { data, info } = await upright().raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
    open = () => sharp(data, { raw: { width: info.width, height: info.height, channels: info.channels } });
  }
  const pictures: (string | null)[] = [];
  for (const square of squares) pictures.push(await cut(open, width, height, square));
  return done(pictures);
}

async function cut(
  open: () => Sharp,
  width: number,
  height: number,
  { centrePx, widthPx }: PieceSquare,
): Promise<string | null> {
  if (!(widthPx >= 2)) throw new RangeError(`piece picture: a width from 2 px is needed, given ${widthPx}`);
  const side = Math.round(widthPx);
  const [x0, y0] = [Math.round(centrePx[0] - side / 2), Math.round(centrePx[1] - side / 2)];
  const [left, top] = [Math.max(0, x0), Math.max(0, y0)];
  const [right, bottom] = [Math.min(width, x0 + side), Math.min(height, y0 + side)];
  if (right - left < 2 || bottom - top < 2) return null;
  const whole = await open()
    .extract({ left, top, width: right - left, height: bottom - top })
    .extend({
      left: left - x0,
      top: top - y0,
      right: x0 + side - right,
      bottom: y0 + side - bottom,
      background: '#808080',
    })
    .png()
    .toBuffer();
  const jpeg = await sharp(whole).resize(SIDE, SIDE, { fit: 'fill' }).jpeg({ quality: 80 }).toBuffer();
  return `data:image/jpeg;base64,${jpeg.toString('base64')}`;
}
