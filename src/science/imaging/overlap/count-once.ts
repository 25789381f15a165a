/** Overlapping photographs of one filter together: each particle counted once. */
import { nearPoints } from '../../maths/index.ts';
import type { Point } from '../finding.ts';
import { alike, type Field } from './field.ts';
import { type FieldLink, linkFields, type PlaceInPart, placesFrom } from './lay-together.ts';
import { type Laid, layOut, moved, nearOf } from './place-fields.ts';

export interface Together {
  /** Place of each field; null where no other field shows the same. */
  readonly places: readonly (PlaceInPart | null)[];
  /** For each field, whether each sighting counts: of several sightings of one particle exactly one does. */
  readonly counts: readonly (readonly boolean[])[];
  /** Sightings of one particle, [field, sighting], the one that counts first; only those seen more than once. */
  readonly same: readonly (readonly (readonly [field: number, sighting: number])[])[];
  /** Area in view, overlaps once, of the fields that have a place, µm². */
  readonly viewUm2: number;
}

/**
 * Tells which sightings count. Of several sightings of one particle the one that was decided on counts, then the whole
 * one, of cut ones the larger, then that of the earlier field. A field without a place counts all of its own. Links that are known already may be given.
 */
export function countOnce(
  fields: readonly Field[],
  links: readonly FieldLink[] = linkFields(fields),
): Together {
  if (fields.length === 0) throw new RangeError('fields: at least one photograph is needed, given none');
  const laid = fields.map(layOut);
  const places = placesFrom(fields.length, links);
  const groups = sightingGroups(laid, places);
  const counts = fields.map((f) => f.sightings.map(() => true));
  for (const group of groups) for (const [f, s] of group.slice(1)) counts[f]![s] = false;
  return { places, counts, same: groups, viewUm2: viewOf(laid, places) };
}

type Ref = readonly [field: number, sighting: number];

function sightingGroups(laid: readonly Laid[], places: readonly (PlaceInPart | null)[]): Ref[][] {
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
      const part = places[a]?.part;
      if (part === undefined || part !== places[b]?.part) continue;
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
  const open = ([f, s]: Ref) => (fieldSighting(laid, f, s).decided ? 0 : 1);
  /** Area that a frame cuts off something of, µm²; of whole ones none is better than another. */
  const cut = ([f, s]: Ref) => {
    const { touchesFrame, areaPx2 } = fieldSighting(laid, f, s);
    return touchesFrame ? areaPx2 * laid[f]!.field.umPerPx ** 2 : Number.POSITIVE_INFINITY;
  };
  return [...groups.values()]
    .filter((g) => g.length > 1)
    .map((g) => g.toSorted((p, q) => open(p) - open(q) || compare(cut(q), cut(p)) || p[0] - q[0]));
}

/** Infinities are equal to each other, where their difference is no number. */
const compare = (a: number, b: number): number => (a === b ? 0 : a - b);

const fieldSighting = (laid: readonly Laid[], f: number, s: number) => laid[f]!.field.sightings[s]!;

/** Pairs that are each other's nearest. A piece that a frame cuts has its middle up to half its length away. */
function mutual(a: Laid, at: readonly Point[], b: Laid, bt: readonly Point[]): [number, number][] {
  const near = nearOf(a, b);
  const reach = (i: number, k: number) => {
    const [s, t] = [a.field.sightings[i]!, b.field.sightings[k]!];
    if (!s.touchesFrame && !t.touchesFrame) return near;
    return near + Math.max(s.feretMaxPx * a.field.umPerPx, t.feretMaxPx * b.field.umPerPx) / 2;
  };
  /** No two pieces of one and the other can lie further apart and be one. */
  const longest = (laid: Laid): number =>
    laid.field.sightings.reduce((most, one) => Math.max(most, one.feretMaxPx), 0) * laid.field.umPerPx;
  const widest = near + Math.max(longest(a), longest(b)) / 2;
  const fits = (i: number, k: number) =>
    alike(a.field.sightings[i]!, a.field.umPerPx, b.field.sightings[k]!, b.field.umPerPx) &&
    distance(at[i]!, bt[k]!) <= reach(i, k);
  const [ofA, ofB] = [nearPoints(at), nearPoints(bt)];
  return at.flatMap((p, i) => {
    const k = ofB.nearest(p, widest, (j) => fits(i, j));
    return k >= 0 && ofA.nearest(bt[k]!, widest, (j) => fits(j, k)) === i ? [[i, k] as [number, number]] : [];
  });
}

const distance = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1]);

/** Lines on which the fields' shared area is read. */
const LINES = 2000;

/** Area of the union of the fields' frames, part by part. Off by about one part in `LINES`. */
function viewOf(laid: readonly Laid[], places: readonly (PlaceInPart | null)[]): number {
  const parts = new Set(places.flatMap((place) => place?.part ?? []));
  return [...parts].reduce((sum, part) => sum + viewOfPart(laid, places, part), 0);
}

function viewOfPart(laid: readonly Laid[], places: readonly (PlaceInPart | null)[], part: number): number {
  const frames = laid.flatMap((l, f) => {
    const place = places[f];
    if (place?.part !== part) return [];
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
