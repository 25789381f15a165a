/** From links between pairs of photographs to a place for each: the strongest links first, in as many parts as hang together. */
import type { Point } from '../finding.ts';
import type { Field } from './field.ts';
import { layOut, link, moved, type Place } from './place-fields.ts';

/** Field `b` lies so in the plane of field `a`; `a` < `b`. */
export interface FieldLink {
  readonly a: number;
  readonly b: number;
  readonly place: Place;
  /** Particles that both show. */
  readonly shared: number;
}

/** A place among the fields of one part; parts lie anywhere towards each other. */
export interface PlaceInPart extends Place {
  readonly part: number;
}

/** Places are told by so many pieces at most, the largest whole ones: more would tell the same and take the square of the time. */
const MOST_TELLING = 300;

const telling = (field: Field): Field => {
  if (field.sightings.length <= MOST_TELLING) return field;
  const whole = field.sightings.filter((one) => !one.touchesFrame);
  return { ...field, sightings: whole.sort((p, q) => q.areaPx2 - p.areaPx2).slice(0, MOST_TELLING) };
};

/** Links of all pairs of which at least one is `fresh` (by index): the others are known already, or known to have none. */
export function linkFields(
  fields: readonly Field[],
  fresh: (index: number) => boolean = () => true,
): readonly FieldLink[] {
  const laid = fields.map((field) => layOut(telling(field)));
  const links: FieldLink[] = [];
  for (let b = 1; b < laid.length; b++) {
    for (let a = 0; a < b; a++) {
      if (!fresh(a) && !fresh(b)) continue;
      const found = link(laid[a]!, laid[b]!);
      if (found) links.push({ a, b, ...found });
    }
  }
  return links;
}

const inverse = ({ turnRad, shiftUm }: Pick<Place, 'turnRad' | 'shiftUm'>) => {
  const [x, y] = moved(shiftUm, { turnRad: -turnRad, shiftUm: [0, 0] });
  return { turnRad: -turnRad, shiftUm: [-x, -y] as Point };
};

/** What is at `inner` in its own plane, which itself lies at `outer`. */
const within = (
  outer: Pick<Place, 'turnRad' | 'shiftUm'>,
  inner: Pick<Place, 'turnRad' | 'shiftUm'>,
): Pick<Place, 'turnRad' | 'shiftUm'> => ({
  turnRad: outer.turnRad + inner.turnRad,
  shiftUm: moved(inner.shiftUm, outer),
});

/**
 * Places of `count` fields by a tree of the strongest links (most shared particles). The first field of a part lies at
 * its origin; a field without a link has no place.
 */
export function placesFrom(count: number, links: readonly FieldLink[]): (PlaceInPart | null)[] {
  const places: (PlaceInPart | null)[] = Array.from({ length: count }, () => null);
  const linked = (i: number) => links.some((one) => one.a === i || one.b === i);
  for (let root = 0; root < count; root++) {
    if (places[root] || !linked(root)) continue;
    places[root] = { turnRad: 0, shiftUm: [0, 0], by: 'first', part: root };
    for (;;) {
      const open = links.filter((one) => (places[one.a] === null) !== (places[one.b] === null));
      const reached = open.filter((one) => (places[one.a] ?? places[one.b])!.part === root);
      const best = reached.sort((p, q) => q.shared - p.shared || p.a - q.a || p.b - q.b)[0];
      if (!best) break;
      const forth = places[best.a] !== null;
      const from = places[forth ? best.a : best.b]!;
      const step = forth ? best.place : inverse(best.place);
      places[forth ? best.b : best.a] = { ...within(from, step), by: best.place.by, part: root };
    }
  }
  return places;
}
