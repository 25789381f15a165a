/** From a grey picture to a few supposed lattices, best first. */
import { type Hypothesis, hypotheses } from './comb.ts';
import { fitMap, type Sighting } from './fit.ts';
import { type LatticeMap, mapGain, mapToGrid } from './lattice.ts';
import { type Grey, halved, ridges } from './luminance.ts';
import { type Segment, segmentsNear, slopeStrength, stripSums } from './strips.ts';

/** Shortest pitch looked for, in px of the grey picture searched. */
const SHORTEST = 14;
/** Pieces of line may lean this far from the common angle: bending by the lens and tilt, radians. */
const LEAN = 0.08;

/** Steepest slope looked for (0.42 is 23°) and how strong a thing may be before it is blotted out, share of white. */
const PASSES = [
  { steepest: 0.42, hush: Number.POSITIVE_INFINITY },
  { steepest: 0.42, hush: 0.13 },
  { steepest: 0.42, hush: 0.05 },
  { steepest: 1, hush: Number.POSITIVE_INFINITY },
] as const;

/** The lattice angles at which both directions have strong lines, best first. */
function bestTurns(
  upright: Float64Array,
  level: Float64Array,
  size: number,
): { turn: number; strength: number }[] {
  const n = upright.length;
  const smooth = (a: Float64Array) =>
    a.map((v, i) => 0.25 * (a[Math.max(0, i - 1)]! + a[Math.min(n - 1, i + 1)]!) + 0.5 * v);
  const a = smooth(upright);
  const b = smooth(level);
  const both = a.map((v, i) => Math.sqrt(v * b[i]!));
  const order = Array.from(both.keys()).sort((i, j) => both[j]! - both[i]!);
  const turns: { turn: number; strength: number }[] = [];
  for (const i of order) {
    if (turns.length === 2 || both[i]! === 0) break;
    if (both[i]! < 0.25 * both[order[0]!]!) break;
    const turn = Math.atan((i - (size - 1)) / (size - 1));
    if (turns.every((t) => Math.abs(t.turn - turn) > LEAN)) turns.push({ turn, strength: both[i]! });
  }
  return turns;
}

/** Sharpens a hypothesis with the pieces of line that it explains. */
function settle(
  h: Hypothesis,
  upright: readonly Segment[],
  level: readonly Segment[],
  photo: { readonly width: number; readonly height: number },
): LatticeMap {
  const radius = Math.hypot(photo.width, photo.height) / 2;
  const middle = [photo.width / 2, photo.height / 2] as const;
  const [cos, sin] = [Math.cos(h.turn) / h.period, Math.sin(h.turn) / h.period];
  let map: LatticeMap = {
    centre: middle,
    radius,
    k1: h.k1,
    k2: 0,
    plane: [cos, sin, -h.columnPhase / h.period, -sin, cos, -h.rowPhase / h.period, 0, 0],
  };
  // First what lies near the middle, where no lens bends much, then all.
  for (const part of [0.55, 1.1]) {
    const seen: Sighting[] = [];
    const take = (s: Segment, runs: 'column' | 'row') => {
      if (Math.hypot(s.x, s.y) > part) return;
      const x = middle[0] + s.x * radius;
      const y = middle[1] + s.y * radius;
      const at = mapToGrid(map, x, y)[runs === 'column' ? 0 : 1]!;
      if (Math.abs(at - Math.round(at)) < 0.2) seen.push({ x, y, runs, index: Math.round(at) });
    };
    for (const s of upright) take(s, 'column');
    for (const s of level) take(s, 'row');
    if (seen.length >= 5) map = fitMap(map, middle, seen, false, 8).map;
  }
  return map;
}

/**
 * Supposed lattices, the likeliest first, one at a time so that the search ends with the first that convinces: dark and
 * pale lines, then smaller copies of the picture (thick lines show best there), then with all strong things blotted out
 * so that faint print shows, then steep angles.
 */
export function* supposedLattices(
  grey: Grey,
  photo: { readonly width: number; readonly height: number },
): Generator<LatticeMap> {
  const tried: LatticeMap[] = [];
  for (const { steepest, hush } of PASSES) {
    let now = grey;
    for (let level = 0; level < 3 && Math.min(now.width, now.height) >= 48; level++) {
      for (const map of atOneSize(now, photo, steepest, hush)) {
        if (tried.some((o) => sameLattice(o, map, photo))) continue;
        tried.push(map);
        yield map;
      }
      now = halved(now);
    }
  }
}

/** Whether two maps put their lines at the same places near the middle. */
function sameLattice(
  a: LatticeMap,
  b: LatticeMap,
  photo: { readonly width: number; readonly height: number },
) {
  for (const [fx, fy] of [
    [0.5, 0.5],
    [0.3, 0.35],
    [0.7, 0.65],
  ] as const) {
    const p = mapToGrid(a, photo.width * fx, photo.height * fy);
    const q = mapToGrid(b, photo.width * fx, photo.height * fy);
    for (const k of [0, 1] as const) {
      const d = p[k] - q[k];
      if (Math.abs(d - Math.round(d)) > 0.12) return false;
    }
  }
  return (
    Math.abs(
      Math.log(mapGain(a, photo.width / 2, photo.height / 2) / mapGain(b, photo.width / 2, photo.height / 2)),
    ) < 0.05
  );
}

function* atOneSize(
  grey: Grey,
  photo: { readonly width: number; readonly height: number },
  steepest: number,
  hush: number,
): Generator<LatticeMap> {
  const { width, height } = grey;
  const values = ridges(grey, 0.02, hush);
  if (!values) return;
  const size = 2 ** Math.max(4, Math.round(Math.log2(Math.min(width, height) / 4)));
  const sums = (turned: boolean) =>
    [false, true].map((mirrored) => stripSums(values, width, height, size, turned, mirrored, steepest));
  const upright = sums(false);
  const level = sums(true);
  const radius = Math.hypot(width, height) / 2;
  const centred = (s: Segment): Segment => ({
    ...s,
    x: (s.x - width / 2) / radius,
    y: (s.y - height / 2) / radius,
  });
  const ideas = [-1, 1].flatMap((sign) => {
    const turns = bestTurns(slopeStrength(upright, sign), slopeStrength(level, sign), size);
    return turns.map((t) => ({ sign, ...t }));
  });
  ideas.sort((a, b) => b.strength - a.strength);
  for (const { sign, turn } of ideas.slice(0, 3)) {
    const a = segmentsNear(upright, turn, LEAN, sign, 4).map(centred);
    const b = segmentsNear(level, turn, LEAN, sign, 4).map(centred);
    const found = hypotheses(
      { segments: a, strips: height / size },
      { segments: b, strips: width / size },
      SHORTEST / radius,
      2,
    );
    for (const h of found) yield settle(h, a, b, photo);
  }
}
