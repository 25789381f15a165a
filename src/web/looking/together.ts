import { roundLength } from '../../report/index.ts';
import type { Sight } from './viewer.tsx';

/** µm in a pixel of each photograph; null for one without a scale. */
export type Scales = readonly [own: number | null, other: number | null];

/**
 * Where the other picture goes when one is moved: the same µm in a pixel of the screen, and moved by the same way. Without
 * a scale on both, photo pixels stand for µm, which the page says.
 */
export function following(before: Sight, now: Sight, other: Sight, [own, theirs]: Scales): Sight {
  const ratio = own !== null && theirs !== null ? own / theirs : 1;
  return {
    perScreenPx: now.perScreenPx * ratio,
    middle: [
      other.middle[0] + (now.middle[0] - before.middle[0]) * ratio,
      other.middle[1] + (now.middle[1] - before.middle[1]) * ratio,
    ],
  };
}

/** A round length (1, 2 or 5 times a power of ten) that is at most `most` screen pixels long. */
export function barOf(umPerScreenPx: number, most: number): { readonly um: number; readonly px: number } {
  const um = roundLength(umPerScreenPx * most);
  return { um, px: um / umPerScreenPx };
}

/** `#at=1200,845`: a place on the left photograph, in its own pixels; null where the address names none. */
export function placeIn(hash: string): readonly [number, number] | null {
  const read = /^#at=(\d{1,7}),(\d{1,7})$/.exec(hash);
  return read ? [Number(read[1]), Number(read[2])] : null;
}

/** Where both begin: at the place, pixel for pixel on the left, and at the same scale on the right. */
export function startOf(
  place: readonly [number, number] | null,
  [left, right]: Scales,
): [Sight | null, Sight | null] {
  if (place === null) return [null, null];
  const ratio = left !== null && right !== null ? left / right : 1;
  const [x, y] = place;
  return [
    { middle: [x, y], perScreenPx: 1 },
    { middle: [x * ratio, y * ratio], perScreenPx: ratio },
  ];
}
