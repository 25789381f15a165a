/**
 * Pieces that touch without a neck but differ in colour or shade. Inside each the colour is even; from one to the other it
 * jumps, and the border between is short against the pieces, as two bodies meet at a spot and not along their whole side.
 */
import { connectedParts } from './connected.ts';
import { distanceInside } from './distance.ts';
import { takeBytes } from './kernels/room.ts';
import { ascending, kthSmallest } from './robust.ts';

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

/** Labels 1… of a mask taken apart by colour; 1 everywhere when it is all of one. `distance` is the mask's own. */
export function splitColours(
  mask: Uint8Array,
  planes: ColourPlanes,
  width: number,
  height: number,
  distance = distanceInside(mask, width, height),
  depth = 3,
): { label: Int32Array; count: number } {
  const label = new Int32Array(mask);
  const halves = depth > 0 ? twoColours(planes, { mask, distance, width, height }) : null;
  if (!halves) return { label, count: 1 };
  let count = 0;
  label.fill(0);
  for (const half of halves) {
    const own = splitColours(half.mask, planes, width, height, half.distance, depth - 1);
    for (let i = 0; i < label.length; i++) if (own.label[i]) label[i] = count + own.label[i]!;
    count += own.count;
  }
  return { label, count };
}

function twoColours(planes: ColourPlanes, shape: Shape): readonly Half[] | null {
  const { mask, distance, width } = shape;
  const inner = new Int32Array(mask.length);
  let n = 0;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] && distance[i]! > CORE && !planes.zone?.[i]) inner[n++] = i;
  }
  const core = inner.subarray(0, n);
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

type Half = Pick<Shape, 'mask' | 'distance'>;

/** Two halves by the colours of the `core` pixels. With `unlike`, the border may be long, but neither may be the other thinned out. */
function halvesOf(
  core: Int32Array,
  shape: Shape,
  planes: ColourPlanes,
  unlike: number | null,
): readonly Half[] | null {
  const { mask, width, height } = shape;
  if (core.length < 2 * FEWEST) return null;
  const axis = mainAxis(core, planes);
  if (!axis) return null;
  const [u, v, w] = axis as [number, number, number];
  const { l, a, b } = planes;
  const values = new Float32Array(core.length);
  for (let k = 0; k < core.length; k++) {
    const i = core[k]!;
    values[k] = a && b ? u * l[i]! + v * a[i]! + w * b[i]! : u * l[i]!;
  }
  const cut = bestCut(values);
  if (!cut || cut.apart < APART || cut.clear < CLEAR) return null;
  const patches = patchesOf(core, values, cut.at, shape);
  if (!patches) return null;
  // One patch of one colour against all the rest; specks are neither.
  const sums: Float64Array[] = [];
  const all = new Float64Array(4);
  if (unlike !== null) {
    for (let k = 0; k < patches.length; k++) {
      const own = colourSums(patches[k]!, planes);
      sums.push(own);
      for (let c = 0; c < 4; c++) all[c]! += own[c]!;
    }
  }
  const times = unlike === null ? BORDER : LONG_BORDER;
  for (let k = 0; k < patches.length; k++) {
    if (unlike !== null && unlikeRest(sums[k]!, all) < unlike) continue;
    const halves = nearest(mask, patches, k, width);
    const border = borderLength(halves, width, height);
    // A half is nowhere thicker than the whole is there: most tries end at this.
    const atMost = 2 * thinner(halves, shape.distance, shape.distance);
    if (atMost < LEAST_ACROSS || border > times * atMost) continue;
    const [p, q] = halves;
    const inP = distanceInside(p, width, height);
    const inQ = distanceInside(q, width, height);
    const smaller = 2 * thinner(halves, inP, inQ);
    if (smaller < LEAST_ACROSS || border > times * smaller) continue;
    return [
      { mask: p, distance: inP },
      { mask: q, distance: inQ },
    ];
  }
  return null;
}

/** The largest distance in that of two halves where it is smaller. */
const thinner = ([p, q]: readonly [Uint8Array, Uint8Array], inP: Float32Array, inQ: Float32Array): number =>
  Math.min(largestIn(p, inP), largestIn(q, inQ));

/** Patches of the core to either side of the cut that hang together, smallest first; null where too much of it is specks. */
function patchesOf(
  core: Int32Array,
  values: Float32Array,
  at: number,
  { mask, width, height }: Shape,
): Int32Array[] | null {
  const patches: Int32Array[] = [];
  let specks = 0;
  for (let side = 0; side < 2; side++) {
    const seed = takeBytes(mask.length).fill(0);
    for (let k = 0; k < core.length; k++) if ((values[k]! > at ? 1 : 0) === side) seed[core[k]!] = 1;
    const parts = connectedParts(seed, width, height);
    const own: (Int32Array | null)[] = [null];
    const held = new Int32Array(parts.count + 1);
    for (let p = 1; p <= parts.count; p++) {
      own.push(parts.sizes[p]! >= FEWEST ? new Int32Array(parts.sizes[p]!) : null);
      if (!own[p]) specks += parts.sizes[p]!;
    }
    for (let k = 0; k < core.length; k++) {
      const i = core[k]!;
      if (!seed[i]) continue;
      const p = parts.label[i]!;
      const patch = own[p];
      if (patch) patch[held[p]!++] = i;
    }
    for (let p = 1; p < own.length; p++) if (own[p]) patches.push(own[p]!);
  }
  if (patches.length < 2 || specks > (1 - WHOLE) * core.length) return null;
  return patches.sort(bySize);
}

const bySize = (p: Int32Array, q: Int32Array): number => p.length - q.length;

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
  const calm = new Int32Array(n);
  let kept = 0;
  for (let k = 0; k < n; k++) if (slopes[k]! <= limit) calm[kept++] = inner[k]!;
  return calm.subarray(0, kept);
}

/** Sum of each colour over a patch, and its pixels. */
function colourSums(patch: Int32Array, planes: ColourPlanes): Float64Array {
  const sums = new Float64Array(4);
  sums[3] = patch.length;
  const used = [planes.l, planes.a, planes.b];
  for (let c = 0; c < 3; c++) {
    const plane = used[c];
    if (plane) for (let k = 0; k < patch.length; k++) sums[c]! += plane[patch[k]!]!;
  }
  return sums;
}

/** How far the colour of a sum or of the rest is from the other's, thinned out by the membrane's: blur and shade only do that. */
function unlikeRest(own: Float64Array, all: Float64Array): number {
  const n = own[3]!;
  const m = all[3]! - n;
  const p = [own[0]! / n, own[1]! / n, own[2]! / n] as const;
  const q = [(all[0]! - own[0]!) / m, (all[1]! - own[1]!) / m, (all[2]! - own[2]!) / m] as const;
  const ownIsThin = Math.hypot(...p) <= Math.hypot(...q);
  const thin = ownIsThin ? p : q;
  const full = ownIsThin ? q : p;
  const dot = thin[0] * full[0] + thin[1] * full[1] + thin[2] * full[2];
  const t = Math.min(1, Math.max(0, dot / Math.max(1e-9, Math.hypot(...full) ** 2)));
  return Math.hypot(thin[0] - t * full[0], thin[1] - t * full[1], thin[2] - t * full[2]);
}

/** Direction in which the colours vary most, by power iteration on their covariance. */
function mainAxis(core: Int32Array, planes: ColourPlanes): number[] | null {
  const n = core.length;
  const used = [planes.l, planes.a, planes.b];
  const off: Float64Array[] = [];
  for (let c = 0; c < 3; c++) {
    const own = new Float64Array(n);
    off.push(own);
    const plane = used[c];
    if (!plane) continue;
    let sum = 0;
    for (let k = 0; k < n; k++) sum += plane[core[k]!]!;
    for (let k = 0; k < n; k++) own[k] = plane[core[k]!]! - sum / n;
  }
  const cov = new Float64Array(9);
  for (let p = 0; p < 3; p++) {
    for (let q = p; q < 3; q++) {
      const a = off[p]!;
      const b = off[q]!;
      let sum = 0;
      for (let k = 0; k < n; k++) sum += a[k]! * b[k]!;
      cov[3 * p + q] = cov[3 * q + p] = sum / n;
    }
  }
  let [u, v, w] = [1, 0.7, 0.4] as [number, number, number];
  for (let turn = 0; turn < 30; turn++) {
    const p = cov[0]! * u + cov[1]! * v + cov[2]! * w;
    const q = cov[3]! * u + cov[4]! * v + cov[5]! * w;
    const r = cov[6]! * u + cov[7]! * v + cov[8]! * w;
    const size = Math.hypot(p, q, r);
    if (!(size > 1e-12)) return null;
    u = p / size;
    v = q / size;
    w = r / size;
  }
  return [u, v, w];
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
function bestCut(values: Float32Array): { at: number; apart: number; clear: number } | null {
  const n = values.length;
  let least = values[0]!;
  let most = least;
  for (let k = 1; k < n; k++) {
    if (values[k]! < least) least = values[k]!;
    if (values[k]! > most) most = values[k]!;
  }
  // The means of two groups are nowhere farther apart than the ends.
  if (!(most - least >= APART)) return null;
  const sorted = ascending(values);
  let total = 0;
  let square = 0;
  for (let k = 0; k < n; k++) {
    total += sorted[k]!;
    square += sorted[k]! * sorted[k]!;
  }
  const known = logsTo(n);
  const logN = known[n]!;
  let best = 0;
  let apart = 0;
  let clear = 0;
  let cheapest = Number.POSITIVE_INFINITY;
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
    if (cost < cheapest) {
      cheapest = cost;
      best = k;
      apart = b - a;
      clear = (b - a) / (Math.sqrt(va) + Math.sqrt(vb));
    }
  }
  return best === 0 ? null : { at: (sorted[best - 1]! + sorted[best]!) / 2, apart, clear };
}

/** Every pixel of the mask goes to the patch numbered `one` or to the others, whichever it is nearest to, step by step within the mask. */
function nearest(
  mask: Uint8Array,
  patches: readonly Int32Array[],
  one: number,
  width: number,
): [Uint8Array, Uint8Array] {
  // 0 for what is not yet reached, and beyond the mask.
  const side = takeBytes(mask.length).fill(0);
  for (let p = 0; p < patches.length; p++) {
    const patch = patches[p]!;
    for (let k = 0; k < patch.length; k++) side[patch[k]!] = p === one ? 1 : 2;
  }
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
