/** The shadow that a bright piece casts on the membrane beside it. */
import { connectedParts } from './connected.ts';
import type { Part } from './part.ts';

/** The bright side stands this many times as high above the membrane as the dark side lies below: no clear rim does. */
const BRIGHTER = 1.6;
/** And makes up at least this share of the whole. */
const SHARE = 0.3;
/** Fewest px of either. */
const FEWEST = 5;
/** The dark side's middle lies this far from the bright side's, against the radius of the whole: shade inside lies nearer. */
const BESIDE = 0.55;

/**
 * The bright part of a mask whose dark part is its shadow; null where nothing says so. Light from one side makes a white
 * piece on a white membrane show as a bright spot with a dark one beside it. A dark piece with a highlight is darker than
 * its highlight is bright or dark all round it; the rims of a clear piece are about as bright as dark.
 */
export function withoutShadow(part: Part, mask: Uint8Array): Uint8Array | null {
  const { width, height, l } = part;
  const bright = new Uint8Array(mask.length);
  const sums = { bright: [0, 0, 0, 0], dark: [0, 0, 0, 0] };
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    if (part.zone?.[i]) return null;
    const own = l[i]! > 0 ? sums.bright : sums.dark;
    if (l[i]! > 0) bright[i] = 1;
    own[0]!++;
    own[1]! += Math.abs(l[i]!);
    own[2]! += i % width;
    own[3]! += Math.floor(i / width);
  }
  const [n, up, bx, by] = sums.bright as [number, number, number, number];
  const [m, down, dx, dy] = sums.dark as [number, number, number, number];
  if (n < FEWEST || m < FEWEST || n < SHARE * (n + m)) return null;
  if (up / n < BRIGHTER * (down / m)) return null;
  const radius = Math.sqrt((n + m) / Math.PI);
  if (Math.hypot(bx / n - dx / m, by / n - dy / m) < BESIDE * radius) return null;
  const parts = connectedParts(bright, width, height);
  let largest = 1;
  for (let k = 2; k <= parts.count; k++) if (parts.sizes[k]! > parts.sizes[largest]!) largest = k;
  // A piece in many bright bits is something else.
  if (parts.sizes[largest]! < 0.8 * n) return null;
  for (let i = 0; i < bright.length; i++) if (parts.label[i] !== largest) bright[i] = 0;
  return bright;
}
