import { colourInside, type Lab, type Point } from '../science/imaging/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { readHead } from './photo-head.ts';
import { pixelsOf, upright } from './pixels.ts';

/** Ground around the piece, as a part of its longer side, and at least so many pixels. */
const AROUND = 0.6;
const AROUND_PX = 12;

/** CIELAB inside an outline drawn on the upright photograph, against the membrane around it. */
export async function colourOnPhoto(
  path: string,
  name: string,
  outline: readonly Point[],
): Promise<Outcome<Lab>> {
  const head = await readHead(path, name);
  if (!head.ok) return head;
  const { width, height } = head.value;
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  const side = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  const room = Math.max(AROUND_PX, AROUND * side);
  const left = Math.max(0, Math.floor(Math.min(...xs) - room));
  const top = Math.max(0, Math.floor(Math.min(...ys) - room));
  const right = Math.min(width, Math.ceil(Math.max(...xs) + room));
  const bottom = Math.min(height, Math.ceil(Math.max(...ys) + room));
  const off = refused({
    why: 'no-area',
    message: `“${name}”: the outline lies outside the photograph or holds no pixel; draw it round the piece.`,
  });
  if (right - left < 2 || bottom - top < 2) return off;
  const cut = upright(path, head.value).extract({ left, top, width: right - left, height: bottom - top });
  const picture = await pixelsOf(cut, head.value);
  const lab = colourInside(
    picture,
    outline.map(([x, y]) => [x - left, y - top] as const),
  );
  return lab === null ? off : done(lab);
}
