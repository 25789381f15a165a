/**
 * Pieces that touch without a neck but differ in colour or shade. Inside each the colour is even; from one to the other it
 * jumps, and the border between is short against the pieces, as two bodies meet at a spot and not along their whole side.
 */
import { connectedParts } from './connected.ts';
import { distanceInside } from './distance.ts';
import { takeBytes } from './kernels/room.ts';
import { kthSmallest } from './robust.ts';

export interface ColourPlanes {
  readonly l: Float32Array;
  readonly a: Float32Array | null;
  readonly b: Float32Array | null;
  /** 1 where print lies: its ink, not the piece, would be told apart there. */
  readonly zone?: Uint8Array | null;
}

/** Two middles differ at least by this, as parts of the membrane's white (project choice). */
const APART = 0.1;
/** And by this many times the sum of their own standard deviations, none taken below the grain's. */
const CLEAR = 2;
const GRAIN = 0.01;
/** Pixels nearer to the outline than this are mixtures. */
const CORE = 1.6;
/** Fewest core pixels of a piece. */
const FEWEST = 10;
/** Least diameter of the smaller, px. */
const LEAST_ACROSS = 4;
/** Share of the core that is in patches of one colour, not in specks. */
const WHOLE = 0.85;
/** Border between the two against the diameter of the smaller. */
const BORDER = 0.95;
/** The same where the colours are of different kinds, which no shade or blur explains. */
const LONG_BORDER = 2.2;
/** Colours of different kinds are this far apart, as parts of the membrane's white (project choice). */
const UNLIKE = 0.12;

/** Labels 1… of a mask taken apart by colour; 1 everywhere when it is all of one. */
export function splitColours(
  mask: Uint8Array,
  planes: ColourPlanes,
  width: number,
  height: number,
  depth = 3,
): { label: Int32Array; count: number } {
  const label = Int32Array.from(mask);
  const halves = depth > 0 ? twoColours(mask, planes, width, height) : null;
  if (!halves) return { label, count: 1 };
  let count = 0;
  label.fill(0);
  for (const half of halves) {
    const own = splitColours(half, planes, width, height, depth - 1);
    for (let i = 0; i < label.length; i++) if (own.label[i]) label[i] = count + own.label[i]!;
    count += own.count;
  }
  return { label, count };
}

function twoColours(
  mask: Uint8Array,
  planes: ColourPlanes,
  width: number,
  height: number,
): [Uint8Array, Uint8Array] | null {
  const distance = distanceInside(mask, width, height);
  const inner = new Int32Array(mask.length);
  let n = 0;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] && distance[i]! > CORE && !planes.zone?.[i]) inner[n++] = i;
  }
  const core = inner.subarray(0, n);
  const shape: Shape = { mask, distance, width, height };
  return (
    halvesOf(core, shape, planes, null) ?? halvesOf(calmest(core, mask, planes, width), shape, planes, UNLIKE)
  );
}

interface Shape {
  readonly mask: Uint8Array;
  readonly distance: Float32Array;
  readonly width: number;
  readonly height: number;
}

/** Two halves by the colours of the `core` pixels. With `unlike`, the border may be long, but neither may be the other thinned out. */
function halvesOf(
  core: Int32Array,
  shape: Shape,
  planes: ColourPlanes,
  unlike: number | null,
): [Uint8Array, Uint8Array] | null {
  const { mask, width, height } = shape;
  if (core.length < 2 * FEWEST) return null;
  const axis = mainAxis(core, planes);
  if (!axis) return null;
  const values = new Float64Array(core.length);
  for (let k = 0; k < core.length; k++) {
    const i = core[k]!;
    values[k] = axis[0]! * planes.l[i]! + axis[1]! * (planes.a?.[i] ?? 0) + axis[2]! * (planes.b?.[i] ?? 0);
  }
  const cut = bestCut(values);
  if (!cut || cut.apart < APART || cut.clear < CLEAR) return null;
  const patches = patchesOf(core, values, cut.at, shape);
  if (!patches) return null;
  // One patch of one colour against all the rest; specks are neither.
  const sums = unlike === null ? [] : patches.map((patch) => colourSums(patch, planes));
  const all = sums.reduce((sum, own) => sum.map((v, c) => v + own[c]!), new Float64Array(4));
  for (const [k, patch] of patches.entries()) {
    const own = sums[k];
    if (
      unlike !== null &&
      own &&
      unlikeness(
        own,
        all.map((v, c) => v - own[c]!),
      ) < unlike
    )
      continue;
    const others = patches.filter((p) => p !== patch);
    const halves = nearest(mask, [[patch], others], width);
    const times = unlike === null ? BORDER : LONG_BORDER;
    const border = borderLength(halves, width, height);
    // A half is nowhere thicker than the whole is there: most tries end at this.
    const atMost = 2 * Math.min(...halves.map((half) => largestIn(half, shape.distance)));
    if (atMost < LEAST_ACROSS || border > times * atMost) continue;
    const smaller =
      2 * Math.min(...halves.map((half) => largestIn(half, distanceInside(half, width, height))));
    if (smaller >= LEAST_ACROSS && border <= times * smaller) return halves;
  }
  return null;
}

/** Patches of the core to either side of the cut that hang together, smallest first; null where too much of it is specks. */
function patchesOf(
  core: Int32Array,
  values: Float64Array,
  at: number,
  { mask, width, height }: Shape,
): number[][] | null {
  const patches: number[][] = [];
  let specks = 0;
  for (const side of [0, 1]) {
    const seed = takeBytes(mask.length).fill(0);
    for (let k = 0; k < core.length; k++) if ((values[k]! > at ? 1 : 0) === side) seed[core[k]!] = 1;
    const parts = connectedParts(seed, width, height);
    const own = parts.sizes.map((size): number[] | null => (size >= FEWEST ? [] : null));
    for (let p = 1; p < own.length; p++) if (!own[p]) specks += parts.sizes[p]!;
    for (const i of core) if (seed[i]) own[parts.label[i]!]?.push(i);
    for (const patch of own) if (patch) patches.push(patch);
  }
  if (patches.length < 2 || specks > (1 - WHOLE) * core.length) return null;
  return patches.sort((p, q) => p.length - q.length);
}

function largestIn(mask: Uint8Array, distance: Float32Array): number {
  let most = 0;
  for (let i = 0; i < mask.length; i++) if (mask[i] && distance[i]! > most) most = distance[i]!;
  return most;
}

/** Share of the inner pixels that is looked at: those where the colour changes least, away from the blur between two pieces. */
const CALM = 0.75;

function calmest(inner: Int32Array, mask: Uint8Array, planes: ColourPlanes, width: number): Int32Array {
  const n = inner.length;
  if (n === 0) return inner;
  const slopes = new Float64Array(n);
  for (const plane of [planes.l, planes.a, planes.b]) {
    if (!plane) continue;
    for (let k = 0; k < n; k++) {
      const i = inner[k]!;
      const dx = mask[i - 1] && mask[i + 1] ? plane[i + 1]! - plane[i - 1]! : 0;
      const dy = mask[i - width] && mask[i + width] ? plane[i + width]! - plane[i - width]! : 0;
      slopes[k]! += dx * dx + dy * dy;
    }
  }
  const limit = kthSmallest(slopes.slice(), n, Math.floor(CALM * n));
  return inner.filter((_, k) => slopes[k]! <= limit);
}

/** Sum of each colour over a patch, and its pixels. */
function colourSums(patch: readonly number[], planes: ColourPlanes): Float64Array {
  const sums = new Float64Array(4);
  sums[3] = patch.length;
  [planes.l, planes.a, planes.b].forEach((plane, c) => {
    if (plane) for (let k = 0; k < patch.length; k++) sums[c]! += plane[patch[k]!]!;
  });
  return sums;
}

/** How far the colour of either of two sums is from the other's, thinned out by the membrane's: blur and shade only do that. */
function unlikeness(one: Float64Array, other: Float64Array): number {
  const mean = (sums: Float64Array) => [sums[0]! / sums[3]!, sums[1]! / sums[3]!, sums[2]! / sums[3]!];
  const [p, q] = [mean(one), mean(other)];
  const size = (v: readonly number[]) => Math.hypot(...v);
  const [thin, full] = size(p) <= size(q) ? [p, q] : [q, p];
  const dot = thin.reduce((s, v, c) => s + v * full[c]!, 0);
  const t = Math.min(1, Math.max(0, dot / Math.max(1e-9, size(full) ** 2)));
  return size(thin.map((v, c) => v - t * full[c]!));
}

/** Direction in which the colours vary most, by power iteration on their covariance. */
function mainAxis(core: Int32Array, planes: ColourPlanes): number[] | null {
  const n = core.length;
  const used = [planes.l, planes.a, planes.b];
  const off = used.map((plane) => {
    const own = new Float64Array(n);
    if (!plane) return own;
    let sum = 0;
    for (let k = 0; k < n; k++) sum += plane[core[k]!]!;
    for (let k = 0; k < n; k++) own[k] = plane[core[k]!]! - sum / n;
    return own;
  });
  const cov = new Float64Array(9);
  for (let p = 0; p < 3; p++) {
    for (let q = p; q < 3; q++) {
      const [a, b] = [off[p]!, off[q]!];
      let sum = 0;
      for (let k = 0; k < n; k++) sum += a[k]! * b[k]!;
      cov[3 * p + q] = cov[3 * q + p] = sum / n;
    }
  }
  let axis = [1, 0.7, 0.4];
  for (let turn = 0; turn < 30; turn++) {
    const next = [0, 1, 2].map(
      (p) => cov[3 * p]! * axis[0]! + cov[3 * p + 1]! * axis[1]! + cov[3 * p + 2]! * axis[2]!,
    );
    const size = Math.hypot(...next);
    if (!(size > 1e-12)) return null;
    axis = next.map((v) => v / size);
  }
  return axis;
}

/** Logarithms of whole numbers, kept from one piece to the next. */
let logs = new Float64Array(0);
function logsTo(n: number): Float64Array {
  if (logs.length <= n) logs = Float64Array.from({ length: 2 * n + 1 }, (_, k) => Math.log(k));
  return logs;
}

/**
 * Cut into two groups, each as even as can be, however unlike their sizes.
 * Source: Kittler and Illingworth, Pattern Recognition 19 (1986) 41–47 (minimum error).
 */
function bestCut(values: Float64Array): { at: number; apart: number; clear: number } | null {
  const sorted = values.slice().sort();
  const n = sorted.length;
  let total = 0;
  let square = 0;
  for (const v of sorted) {
    total += v;
    square += v * v;
  }
  // The means of two groups are nowhere farther apart than the ends.
  if (!(sorted[n - 1]! - sorted[0]! >= APART)) return null;
  const known = logsTo(n);
  const logN = known[n]!;
  let best: { at: number; apart: number; clear: number } | null = null;
  let least = Number.POSITIVE_INFINITY;
  let low = 0;
  let low2 = 0;
  for (let k = 1; k < n; k++) {
    low += sorted[k - 1]!;
    low2 += sorted[k - 1]! ** 2;
    if (k < FEWEST || n - k < FEWEST) continue;
    const f = k / n;
    const a = low / k;
    const b = (total - low) / (n - k);
    const va = Math.max(0, low2 / k - a * a) + GRAIN * GRAIN;
    const vb = Math.max(0, (square - low2) / (n - k) - b * b) + GRAIN * GRAIN;
    const cost =
      f * (Math.log(va) - 2 * (known[k]! - logN)) + (1 - f) * (Math.log(vb) - 2 * (known[n - k]! - logN));
    if (cost < least) {
      least = cost;
      best = {
        at: (sorted[k - 1]! + sorted[k]!) / 2,
        apart: b - a,
        clear: (b - a) / (Math.sqrt(va) + Math.sqrt(vb)),
      };
    }
  }
  return best;
}

/** Every pixel of the mask goes to the patches it is nearest to, step by step within the mask. */
function nearest(
  mask: Uint8Array,
  sides: readonly [readonly (readonly number[])[], readonly (readonly number[])[]],
  width: number,
): [Uint8Array, Uint8Array] {
  // 0 for what is not yet reached, and beyond the mask.
  const side = takeBytes(mask.length).fill(0);
  for (const k of [0, 1] as const) for (const patch of sides[k]) for (const i of patch) side[i] = k + 1;
  const queue = new Int32Array(mask.length);
  let end = 0;
  for (let i = 0; i < mask.length; i++) if (side[i]) queue[end++] = i;
  for (let k = 0; k < end; k++) {
    const i = queue[k]!;
    const own = side[i]!;
    const x = i % width;
    if (x > 0 && mask[i - 1] && !side[i - 1]) {
      side[i - 1] = own;
      queue[end++] = i - 1;
    }
    if (x + 1 < width && mask[i + 1] && !side[i + 1]) {
      side[i + 1] = own;
      queue[end++] = i + 1;
    }
    if (i >= width && mask[i - width] && !side[i - width]) {
      side[i - width] = own;
      queue[end++] = i - width;
    }
    if (i + width < mask.length && mask[i + width] && !side[i + width]) {
      side[i + width] = own;
      queue[end++] = i + width;
    }
  }
  const halves: [Uint8Array, Uint8Array] = [takeBytes(mask.length), takeBytes(mask.length)];
  for (let i = 0; i < mask.length; i++) {
    halves[0][i] = side[i] === 1 ? 1 : 0;
    halves[1][i] = side[i] === 2 ? 1 : 0;
  }
  return halves;
}

/** Length of the border between two halves, px: pairs of neighbours across it, less what a staircase adds. */
function borderLength(halves: readonly [Uint8Array, Uint8Array], width: number, height: number): number {
  let across = 0;
  let down = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const own = halves[0][i] ? 0 : halves[1][i] ? 1 : -1;
      if (own < 0) continue;
      if (x + 1 < width && halves[1 - own]![i + 1]) across++;
      if (y + 1 < height && halves[1 - own]![i + width]) down++;
    }
  }
  return Math.hypot(across, down);
}
