/** Thin shapes taken apart into fibres, and fibres taken off the compact pieces they touch. */
import { connectedParts } from './connected.ts';
import { distanceInside } from './distance.ts';
import { kthSmallest } from './robust.ts';
import { fibreWays } from './skeleton-graph.ts';

export interface PartsOfShape {
  /** 1… for compact bodies. */
  readonly bodies: Uint8Array;
  /** Thin remainders, one mask each. */
  readonly threads: Uint8Array[];
}

/** Half widths along a thin shape are even; a compact body is much thicker than its threads. */
const BODY = 2.4;

/**
 * Takes threads off bodies: what an opening with the threads' own half width leaves is body, what it removes and is
 * long and thin is thread. Null when the shape is all of one kind.
 */
export function threadsOffBodies(
  mask: Uint8Array,
  distance: Float32Array,
  width: number,
  height: number,
): PartsOfShape | null {
  const ways = fibreWays(mask, distance, width, height);
  const along = new Float64Array(ways.reduce((n, way) => n + way.length, 0));
  let thick = 0;
  let n = 0;
  for (const way of ways) for (let k = 0; k < way.length; k++) along[n++] = distance[way[k]!]!;
  for (let i = 0; i < distance.length; i++) thick = Math.max(thick, distance[i]!);
  if (along.length < 20) return null;
  const slim = kthSmallest(along, n, Math.floor(n * 0.35));
  if (thick < BODY * slim + 1.5 || slim > 7) return null;
  // Opening by distances: everything within t of a pixel deeper than t.
  const t = Math.max(1.6 * slim + 0.7, 2.5);
  const deep = new Uint8Array(mask.length);
  for (let i = 0; i < deep.length; i++) deep[i] = distance[i]! > t ? 1 : 0;
  const shallow = new Uint8Array(mask.length);
  for (let i = 0; i < deep.length; i++) shallow[i] = deep[i] ? 0 : 1;
  const away = distanceInside(shallow, width, height);
  const bodies = new Uint8Array(mask.length);
  const rest = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (!mask[i]) continue;
    if (deep[i] || away[i]! <= t + 0.5) bodies[i] = 1;
    else rest[i] = 1;
  }
  const parts = connectedParts(rest, width, height);
  const threads: Uint8Array[] = [];
  for (let k = 1; k <= parts.count; k++) {
    const own = new Uint8Array(mask.length);
    for (let i = 0; i < own.length; i++) if (parts.label[i] === k) own[i] = 1;
    const length = parts.sizes[k]! / (2 * slim);
    if (length > 5 * slim && length > 12) threads.push(own);
    else for (let i = 0; i < own.length; i++) if (own[i]) bodies[i] = 1;
  }
  return threads.length === 0 ? null : { bodies, threads };
}

/** Whether a shape is a line or a tangle of lines rather than a body: its area is many times its thickness squared. */
export function isThread(size: number, thick: number): boolean {
  return size > 20 * thick * thick;
}
