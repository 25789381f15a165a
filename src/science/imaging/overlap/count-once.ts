/** Overlapping photographs of one filter together: each particle counted once. */
import type { Point } from '../finding.ts';
import { alike, type Field } from './field.ts';
import { type Laid, type Link, layOut, link, moved, nearOf, type Place } from './place-fields.ts';

export interface Together {
  /** Place of each field; null where it could not be joined to the first. */
  readonly places: readonly (Place | null)[];
  /** For each field, whether each sighting counts: of several sightings of one particle exactly one does. */
  readonly counts: readonly (readonly boolean[])[];
  /** Sightings of one particle, [field, sighting], the one that counts first; only those seen more than once. */
  readonly same: readonly (readonly (readonly [field: number, sighting: number])[])[];
  /** Area in view, overlaps once, of the fields that were placed, µm². */
  readonly viewUm2: number;
  /** Fields without a place, told in words: their particles may be counted twice. */
  readonly unplaced: readonly { readonly field: number; readonly message: string }[];
}

/**
 * Places the fields and tells which sightings count. Of several sightings of one particle the whole one counts, then the
 * larger, then that of the earlier field. A field without a place counts all of its own and is named in `unplaced`.
 */
export function countOnce(fields: readonly Field[]): Together {
  if (fields.length === 0) throw new RangeError('fields: at least one photograph is needed, given none');
  const laid = fields.map(layOut);
  const places = join(laid);
  const groups = sightingGroups(laid, places);
  const counts = fields.map((f) => f.sightings.map(() => true));
  for (const group of groups) for (const [f, s] of group.slice(1)) counts[f]![s] = false;
  return {
    places,
    counts,
    same: groups,
    viewUm2: viewOf(laid, places),
    unplaced: places.flatMap((place, field) =>
      place
        ? []
        : [
            {
              field,
              message: `Photograph ${field + 1} shares no print and too few particles with the others to tell its place: take it with more overlap, or count it apart.`,
            },
          ],
    ),
  };
}

/** Places by the strongest link first, from the first field outwards. */
function join(laid: readonly Laid[]): (Place | null)[] {
  const places: (Place | null)[] = laid.map(() => null);
  places[0] = { turnRad: 0, shiftUm: [0, 0], by: 'first' };
  const links = new Map<number, Link | null>();
  const between = (a: number, b: number): Link | null => {
    const key = a * laid.length + b;
    let known = links.get(key);
    if (known === undefined) {
      known = link(laid[a]!, laid[b]!);
      links.set(key, known);
    }
    return known;
  };
  for (;;) {
    let best: { to: number; place: Place; shared: number } | null = null;
    for (let a = 0; a < laid.length; a++) {
      const from = places[a];
      if (!from) continue;
      for (let b = 0; b < laid.length; b++) {
        if (places[b]) continue;
        const found = between(a, b);
        if (!found || (best && found.shared <= best.shared)) continue;
        const { turnRad, shiftUm, by } = found.place;
        best = {
          to: b,
          shared: found.shared,
          place: { turnRad: from.turnRad + turnRad, shiftUm: moved(shiftUm, from), by },
        };
      }
    }
    if (!best) return places;
    places[best.to] = best.place;
  }
}

type Ref = readonly [field: number, sighting: number];

function sightingGroups(laid: readonly Laid[], places: readonly (Place | null)[]): Ref[][] {
  const at = laid.map((l, f) => {
    const place = places[f];
    return place ? l.at.map((p) => moved(p, place)) : [];
  });
  const offset: number[] = [];
  let total = 0;
  for (const l of laid) {
    offset.push(total);
    total += l.at.length;
  }
  const parent = Int32Array.from({ length: total }, (_, i) => i);
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    return r;
  };
  for (let a = 0; a < laid.length; a++) {
    for (let b = a + 1; b < laid.length; b++) {
      if (!places[a] || !places[b]) continue;
      for (const [i, k] of mutual(laid[a]!, at[a]!, laid[b]!, at[b]!)) {
        const [p, q] = [root(offset[a]! + i), root(offset[b]! + k)];
        parent[Math.max(p, q)] = Math.min(p, q);
      }
    }
  }
  const groups = new Map<number, Ref[]>();
  laid.forEach((l, f) => {
    for (let s = 0; s < l.at.length; s++) {
      const r = root(offset[f]! + s);
      groups.set(r, [...(groups.get(r) ?? []), [f, s]]);
    }
  });
  const area = ([f, s]: Ref) => fieldSighting(laid, f, s).areaPx2 * laid[f]!.field.umPerPx ** 2;
  const cut = ([f, s]: Ref) => (fieldSighting(laid, f, s).touchesFrame ? 1 : 0);
  return [...groups.values()]
    .filter((g) => g.length > 1)
    .map((g) => g.toSorted((p, q) => cut(p) - cut(q) || area(q) - area(p) || p[0] - q[0]));
}

const fieldSighting = (laid: readonly Laid[], f: number, s: number) => laid[f]!.field.sightings[s]!;

/** Pairs that are each other's nearest. A piece that a frame cuts has its middle up to half its length away. */
function mutual(a: Laid, at: readonly Point[], b: Laid, bt: readonly Point[]): [number, number][] {
  const near = nearOf(a, b);
  const reach = (i: number, k: number) => {
    const [s, t] = [a.field.sightings[i]!, b.field.sightings[k]!];
    if (!s.touchesFrame && !t.touchesFrame) return near;
    return near + Math.max(s.feretMaxPx * a.field.umPerPx, t.feretMaxPx * b.field.umPerPx) / 2;
  };
  const fits = (i: number, k: number) =>
    alike(a.field.sightings[i]!, a.field.umPerPx, b.field.sightings[k]!, b.field.umPerPx) &&
    distance(at[i]!, bt[k]!) <= reach(i, k);
  const nearest = (from: Point, among: readonly Point[], ok: (k: number) => boolean) => {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    among.forEach((q, k) => {
      const d = distance(from, q);
      if (d < least && ok(k)) {
        least = d;
        best = k;
      }
    });
    return best;
  };
  return at.flatMap((p, i) => {
    const k = nearest(p, bt, (j) => fits(i, j));
    return k >= 0 && nearest(bt[k]!, at, (j) => fits(j, k)) === i ? [[i, k] as [number, number]] : [];
  });
}

const distance = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1]);

/** Lines on which the fields' shared area is read. */
const LINES = 2000;

/** Area of the union of the fields' frames. Off by about one part in `LINES`. */
function viewOf(laid: readonly Laid[], places: readonly (Place | null)[]): number {
  const frames = laid.flatMap((l, f) => {
    const place = places[f];
    if (!place) return [];
    const { widthPx: w, heightPx: h } = l.field;
    const corners: Point[] = [
      [0, 0],
      [w, 0],
      [w, h],
      [0, h],
    ];
    return [corners.map((c) => moved(l.toUm(c), place))];
  });
  const ys = frames.flat().map((p) => p[1]);
  const low = Math.min(...ys);
  const step = (Math.max(...ys) - low) / LINES;
  let area = 0;
  for (let k = 0; k < LINES; k++) {
    const y = low + (k + 0.5) * step;
    const spans = frames.flatMap((frame) => {
      const xs: number[] = [];
      frame.forEach(([ax, ay], i) => {
        const [bx, by] = frame[(i + 1) % 4]!;
        if (ay > y !== by > y) xs.push(ax + ((y - ay) / (by - ay)) * (bx - ax));
      });
      return xs.length === 2 ? [[Math.min(...xs), Math.max(...xs)] as const] : [];
    });
    spans.sort((p, q) => p[0] - q[0]);
    let end = Number.NEGATIVE_INFINITY;
    for (const [from, to] of spans) {
      if (to <= end) continue;
      area += (to - Math.max(from, end)) * step;
      end = to;
    }
  }
  return area;
}
