/** What an enclosed hole means: the inside of a piece, the eye of a fibre's loop, or the dry middle of a droplet ring. */
import { connectedParts } from './connected.ts';
import { distanceInside } from './distance.ts';
import { takeBytes } from './kernels/room.ts';
import { circleThrough } from './not-particles.ts';
import type { Part } from './part.ts';
import { fibreWays } from './skeleton-graph.ts';

/** Fills the holes that belong to the piece, in place; true when the whole is a droplet ring and no piece at all. */
export function settleHoles(part: Part, mask: Uint8Array): boolean {
  const { width, height, contrast } = part;
  const outside = takeBytes(mask.length).fill(0);
  let size = 0;
  let rim = 0;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i]) {
      size++;
      rim += contrast[i]!;
    } else outside[i] = 1;
  }
  rim /= size;
  const { label, count, sizes } = connectedParts(outside, width, height, false);
  const open = new Uint8Array(count + 1);
  for (let x = 0; x < width; x++) open[label[x]!] = open[label[(height - 1) * width + x]!] = 1;
  for (let y = 0; y < height; y++) open[label[y * width]!] = open[label[y * width + width - 1]!] = 1;
  const within = new Float64Array(count + 1);
  for (let i = 0; i < mask.length; i++) within[label[i]!]! += contrast[i]!;
  const large: number[] = [];
  const fill = new Uint8Array(count + 1);
  for (let k = 1; k <= count; k++) {
    if (open[k]) continue;
    const inside = within[k]! / sizes[k]!;
    if (sizes[k]! <= Math.max(30, 0.15 * size) || inside > 0.3 * rim) fill[k] = 1;
    else large.push(k);
  }
  if (large.length > 0) {
    const distance = distanceInside(mask, width, height);
    let thick = 0;
    for (let i = 0; i < distance.length; i++) thick = Math.max(thick, distance[i]!);
    const biggest = large.reduce((a, b) => (sizes[b]! > sizes[a]! ? b : a));
    const eye = Math.sqrt(sizes[biggest]! / Math.PI);
    const thinRim = thick < 0.45 * eye + 1;
    if (thinRim && isRound(mask, width, height)) return true;
    const loop = thinRim && hasFreeEnd(mask, distance, width, height);
    if (!loop) for (const k of large) fill[k] = 1;
  }
  for (let i = 0; i < mask.length; i++) if (fill[label[i]!]) mask[i] = 1;
  return false;
}

function isRound(mask: Uint8Array, width: number, height: number): boolean {
  const points: [number, number][] = [];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) if (mask[y * width + x]) points.push([x, y]);
  const circle = circleThrough(points);
  return circle !== null && circle.off < 0.5 + 0.09 * circle.r;
}

function hasFreeEnd(mask: Uint8Array, distance: Float32Array, width: number, height: number): boolean {
  const ways = fibreWays(mask, distance, width, height);
  return ways.some((way) => {
    const a = way[0]!;
    const b = way[way.length - 1]!;
    const apart = Math.hypot((a % width) - (b % width), Math.floor(a / width) - Math.floor(b / width));
    return way.length > 12 && apart > 4;
  });
}
