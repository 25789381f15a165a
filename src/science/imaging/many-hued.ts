/** What the inner pixels of a piece tell beyond their mean: several hues, or a highlight. */
import { lengthOf } from './outline.ts';
import { kthSmallest } from './robust.ts';

/** Colour of a pixel counts as a hue from this distance to the membrane's own (opponent axes, parts of its white). */
const COLOURED = 0.12;
/** Half of the piece must be coloured, and its hues this little of one mind (length of the mean of unit vectors). */
const SHARE = 0.5;
const OF_ONE_MIND = 0.75;

/** Whether a piece shows hues far apart. `a` and `b` are the opponent colours of its inner pixels. */
export function manyHued(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  let n = 0;
  let x = 0;
  let y = 0;
  for (let i = 0; i < a.length; i++) {
    const size = lengthOf(a[i]!, b[i]!);
    if (size < COLOURED) continue;
    n++;
    x += a[i]! / size;
    y += b[i]! / size;
  }
  return n >= 20 && n >= SHARE * a.length && Math.hypot(x, y) < OF_ONE_MIND * n;
}

/** A highlight is at least this much lighter than the piece (parts of the membrane's white), and small against it. */
const LIGHTER = 0.2;
const LARGEST_SHARE = 0.2;

/** Whether a small part of the inner pixels is far lighter than the rest. `l` is their lightness. */
export function hasHighlight(l: ArrayLike<number>): boolean {
  if (l.length < 12) return false;
  const bound = kthSmallest(Float64Array.from(l), l.length, l.length >> 1) + LIGHTER;
  let bright = 0;
  for (let i = 0; i < l.length; i++) if (l[i]! > bound) bright++;
  return bright >= 2 && bright <= LARGEST_SHARE * l.length;
}
