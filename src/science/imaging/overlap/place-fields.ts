/**
 * Overlapping photographs of one filter, laid side by side: each gets its place relative to the first. With print in
 * both, only whole pitches are unknown between two; they are settled by the particles that both show, or by the stage.
 * Without print, turn and shift are fitted to the particles that both show.
 * Holds for: photographs turned against each other by less than 45°, of one filter under one light.
 * Deceives when: particles lie in a pattern that repeats. Where too few are shared to rule chance out, no place is told.
 */
import type { Point } from '../finding.ts';
import { alike, type Field, printUm } from './field.ts';

/** From the field's own plane (print µm, or px times the scale) to the first field's: turned, then shifted. */
export interface Place {
  readonly turnRad: number;
  readonly shiftUm: Point;
  readonly by: 'first' | 'print' | 'stage' | 'particles';
}

/** A field with every sighting in µm of its own plane. */
export interface Laid {
  readonly field: Field;
  readonly printed: boolean;
  readonly toUm: (px: Point) => Point;
  readonly at: readonly Point[];
}

export function layOut(field: Field): Laid {
  const byPrint = printUm(field);
  const toUm = byPrint ?? (([x, y]: Point): Point => [x * field.umPerPx, y * field.umPerPx]);
  return { field, printed: byPrint !== null, toUm, at: field.sightings.map((s) => toUm(s.centroidPx)) };
}

export const moved = ([x, y]: Point, { turnRad, shiftUm }: Pick<Place, 'turnRad' | 'shiftUm'>): Point => {
  const c = Math.cos(turnRad);
  const s = Math.sin(turnRad);
  return [c * x - s * y + shiftUm[0], s * x + c * y + shiftUm[1]];
};

/** Two photographs see one particle at most this far apart, px of the coarser one (project choice). */
const NEAR_PX = 6;
/** Shares of a turn tried without print: ± 3° in steps of half a degree. */
const TURNS = Array.from({ length: 13 }, (_, k) => ((k - 6) * 0.5 * Math.PI) / 180);
/** Without print two particles fix turn and shift, so that a third is the first to speak for them. */
const FEWEST_WITHOUT_PRINT = 3;
/** How likely a place may be by chance alone (project choice): a wrong one joins particles that are not the same. */
const BY_CHANCE = 0.001;
const MOST_NEEDED = 50;

/**
 * Shared particles needed so that chance alone would seldom give as many: of `pairs` look-alikes each agrees with a given
 * place with probability `share`, and `places` are tried. Poisson's law for the agreements, union bound over places.
 */
export function sharedNeeded(pairs: number, share: number, places: number): number {
  const mean = pairs * share;
  let chance = places;
  for (let k = 1; k <= MOST_NEEDED; k++) {
    chance *= mean / k;
    if (chance < BY_CHANCE) return k;
  }
  return MOST_NEEDED;
}

export interface Link {
  readonly place: Place;
  readonly shared: number;
}

/** Where `b` lies in the plane of `a`; null when that cannot be told. */
export function link(a: Laid, b: Laid): Link | null {
  return a.printed && b.printed ? linkByPrint(a, b) : linkByParticles(a, b);
}

function linkByPrint(a: Laid, b: Laid): Link | null {
  const pitch = a.field.print!.pitchUm;
  if (Math.abs(b.field.print!.pitchUm / pitch - 1) > 0.02) return null;
  const votes = new Map<string, { i: number; j: number; n: number }>();
  const near = nearOf(a, b);
  let lookAlikes = 0;
  eachPair(a, b, (p, q) => {
    lookAlikes++;
    const i = Math.round((p[0] - q[0]) / pitch);
    const j = Math.round((p[1] - q[1]) / pitch);
    if (Math.hypot(p[0] - q[0] - i * pitch, p[1] - q[1] - j * pitch) > near) return;
    const vote = votes.get(`${i},${j}`) ?? { i, j, n: 0 };
    vote.n++;
    votes.set(`${i},${j}`, vote);
  });
  const stage = stageShift(a, b);
  if (stage) {
    const shiftUm: Point = [Math.round(stage[0] / pitch) * pitch, Math.round(stage[1] / pitch) * pitch];
    const own = votes.get(`${Math.round(stage[0] / pitch)},${Math.round(stage[1] / pitch)}`);
    return { place: { turnRad: 0, shiftUm, by: 'stage' }, shared: own?.n ?? 0 };
  }
  // A pair agrees with the print by chance in this share of cases, whichever pitch it then speaks for.
  const fewest = sharedNeeded(lookAlikes, (Math.PI * near ** 2) / pitch ** 2, 1);
  const ranked = [...votes.values()]
    .map((v) => {
      const shiftUm: Point = [v.i * pitch, v.j * pitch];
      return { ...v, shiftUm, ...agreement(a, b, { turnRad: 0, shiftUm }) };
    })
    .filter((v) => v.shared >= fewest && v.shared >= 0.5 * v.expected)
    .sort((p, q) => q.shared - p.shared || p.i - q.i || p.j - q.j);
  const [best, next] = ranked;
  if (!best || (next && next.shared === best.shared)) return null;
  return { place: { turnRad: 0, shiftUm: best.shiftUm, by: 'print' }, shared: best.shared };
}

/** The stage's own difference in the plane of `a`'s print: its axes are those of the photograph, turned with the print. */
function stageShift(a: Laid, b: Laid): Point | null {
  const [p, q] = [a.field.stageUm, b.field.stageUm];
  if (!p || !q) return null;
  // A spot that both photographs may show, told in both planes.
  const spot: Point = [Math.max(p[0], q[0]), Math.max(p[1], q[1])];
  const on = (laid: Laid, [x, y]: Point) =>
    laid.toUm([(spot[0] - x) / laid.field.umPerPx, (spot[1] - y) / laid.field.umPerPx]);
  const [u, v] = [on(a, p), on(b, q)];
  return [u[0] - v[0], u[1] - v[1]];
}

function linkByParticles(a: Laid, b: Laid): Link | null {
  const near = nearOf(a, b);
  let best: { turnRad: number; shiftUm: Point; shared: number; expected: number } | null = null;
  let next = 0;
  let lookAlikes = 0;
  for (const turnRad of TURNS) {
    const cells = new Map<string, { n: number; x: number; y: number }>();
    const side = 4 * near;
    lookAlikes = 0;
    eachPair(a, b, (p, q) => {
      lookAlikes++;
      const [x, y] = moved(q, { turnRad, shiftUm: [0, 0] });
      const [dx, dy] = [p[0] - x, p[1] - y];
      const key = `${Math.floor(dx / side)},${Math.floor(dy / side)}`;
      const cell = cells.get(key) ?? { n: 0, x: 0, y: 0 };
      cell.n++;
      cell.x += dx;
      cell.y += dy;
      cells.set(key, cell);
    });
    for (const { n, x, y } of cells.values()) {
      if (n < 2) continue;
      const fitted = aligned(a, b, { turnRad, shiftUm: [x / n, y / n] }, 3 * near);
      const found = { ...fitted, ...agreement(a, b, fitted) };
      if (!best || found.shared > best.shared) {
        if (best && apart(best, found) > side) next = Math.max(next, best.shared);
        best = found;
      } else if (apart(best, found) > side) next = Math.max(next, found.shared);
    }
  }
  const spot = Math.PI * near ** 2;
  const reach =
    (a.field.widthPx * a.field.umPerPx + b.field.widthPx * b.field.umPerPx) *
    (a.field.heightPx * a.field.umPerPx + b.field.heightPx * b.field.umPerPx);
  const needed = sharedNeeded(lookAlikes, spot / reach, (TURNS.length * reach) / spot);
  if (!best || best.shared < Math.max(FEWEST_WITHOUT_PRINT, needed) || best.shared < 0.5 * best.expected)
    return null;
  if (next >= best.shared) return null;
  const { turnRad, shiftUm, shared } = best;
  return { place: { turnRad, shiftUm, by: 'particles' }, shared };
}

const apart = (p: { shiftUm: Point }, q: { shiftUm: Point }): number =>
  Math.hypot(p.shiftUm[0] - q.shiftUm[0], p.shiftUm[1] - q.shiftUm[1]);

export const nearOf = (a: Laid, b: Laid): number => NEAR_PX * Math.max(a.field.umPerPx, b.field.umPerPx);

function eachPair(a: Laid, b: Laid, see: (p: Point, q: Point) => void): void {
  a.field.sightings.forEach((s, i) => {
    b.field.sightings.forEach((t, k) => {
      // A cut piece's middle says little about its place.
      if (s.touchesFrame || t.touchesFrame || !alike(s, a.field.umPerPx, t, b.field.umPerPx)) return;
      see(a.at[i]!, b.at[k]!);
    });
  });
}

/** Pairs of whole sightings, each the nearest to the other, within `near` µm. */
function pairs(
  a: Laid,
  b: Laid,
  place: Pick<Place, 'turnRad' | 'shiftUm'>,
  near: number,
): [number, number][] {
  const there = b.at.map((q) => moved(q, place));
  const nearest = (p: Point, among: readonly Point[]) => {
    let best = -1;
    let least = near;
    among.forEach((q, k) => {
      const d = Math.hypot(p[0] - q[0], p[1] - q[1]);
      if (d <= least) {
        least = d;
        best = k;
      }
    });
    return best;
  };
  return a.at.flatMap((p, i) => {
    const k = nearest(p, there);
    if (k < 0 || nearest(there[k]!, a.at) !== i) return [];
    const [s, t] = [a.field.sightings[i]!, b.field.sightings[k]!];
    return alike(s, a.field.umPerPx, t, b.field.umPerPx) ? [[i, k] as [number, number]] : [];
  });
}

/** Least-squares turn and shift over shared particles, twice. Source of the method: Kabsch, Acta Cryst. A32 (1976) 922–923. */
function aligned(a: Laid, b: Laid, start: Pick<Place, 'turnRad' | 'shiftUm'>, near: number) {
  let place = start;
  for (let round = 0; round < 2; round++) {
    const both = pairs(a, b, place, round === 0 ? near : near / 2);
    if (both.length < 2) break;
    const mean = (points: readonly Point[]): Point => [
      points.reduce((s, p) => s + p[0], 0) / points.length,
      points.reduce((s, p) => s + p[1], 0) / points.length,
    ];
    const p = both.map(([i]) => a.at[i]!);
    const q = both.map(([, k]) => b.at[k]!);
    const [pm, qm] = [mean(p), mean(q)];
    let along = 0;
    let across = 0;
    p.forEach(([x, y], i) => {
      const [u, v] = [q[i]![0] - qm[0], q[i]![1] - qm[1]];
      along += u * (x - pm[0]) + v * (y - pm[1]);
      across += u * (y - pm[1]) - v * (x - pm[0]);
    });
    const turnRad = Math.atan2(across, along);
    const [x, y] = moved(qm, { turnRad, shiftUm: [0, 0] });
    place = { turnRad, shiftUm: [pm[0] - x, pm[1] - y] };
  }
  return place;
}

/** Shared particles at a place, and how many whole ones of the field that shows fewer lie where both look. */
function agreement(a: Laid, b: Laid, place: Pick<Place, 'turnRad' | 'shiftUm'>) {
  const shared = pairs(a, b, place, nearOf(a, b)).length;
  const back: Pick<Place, 'turnRad' | 'shiftUm'> = (() => {
    const turnRad = -place.turnRad;
    const [x, y] = moved(place.shiftUm, { turnRad, shiftUm: [0, 0] });
    return { turnRad, shiftUm: [-x, -y] };
  })();
  const inOther = (from: Laid, to: Laid, how: Pick<Place, 'turnRad' | 'shiftUm'>) => {
    const [ax, ay] = to.toUm([0, 0]);
    const [bx, by] = to.toUm([to.field.widthPx, to.field.heightPx]);
    return from.at.filter((p, i) => {
      const [x, y] = moved(p, how);
      return !from.field.sightings[i]!.touchesFrame && x > ax && x < bx && y > ay && y < by;
    }).length;
  };
  return { shared, expected: Math.min(inOther(a, b, back), inOther(b, a, place)) };
}
