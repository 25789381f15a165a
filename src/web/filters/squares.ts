import type { FilterJson, PhotoJson } from '../../api/index.ts';
import type { DiscSquare, SquareState } from '../../report/index.ts';

/** Photographs are there, and none of them could be searched: what lies on the filter cannot be seen on them. */
export const isHidden = ({ photos }: FilterJson): boolean =>
  photos.length > 0 && photos.every((photo) => photo.state === 'refused');

export interface Disc {
  readonly diameterMm: number;
  readonly pitchMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly squares: readonly DiscSquare[];
  /** Whole squares that fit on the disc. */
  readonly total: number;
}

/** A filter whose print or diameter nobody entered is drawn with a common one, and said so by its label. */
const DRAWN = { diameterMm: 40, pitchMm: 3.1 };

/**
 * The disc of a filter with as many squares filled as were photographed. Photographs do not say where on the disc they
 * were taken unless somebody said so of all of them: then squares fill row by row from the top, the shares are true, the
 * places are not claimed.
 */
export function discOf(filter: FilterJson, known: Places = new Map()): Disc {
  const diameterMm = filter.effective_diameter_mm ?? DRAWN.diameterMm;
  const pitchMm = filter.pitch_mm ?? DRAWN.pitchMm;
  const across = Math.max(1, Math.ceil(diameterMm / pitchMm));
  const places = whole(across, diameterMm / pitchMm / 2);
  const looked = filter.photos.length > 0 ? Math.round(filter.examined * places.length) : 0;
  const rest = places.length - looked;
  const of = (states: readonly PhotoJson['state'][]) =>
    filter.photos.filter((photo) => states.includes(photo.state)).length;
  const waiting = share(of(['waiting', 'searching']), filter, rest);
  const hidden = share(of(['refused']), filter, rest - waiting);
  const shown: readonly SquareState[] = [
    ...Array<SquareState>(Math.max(looked, Math.min(1, of(['searched'])))).fill('looked'),
    ...Array<SquareState>(waiting).fill('photographed'),
    ...Array<SquareState>(hidden).fill('cannot-be-seen'),
  ];
  return {
    diameterMm,
    pitchMm,
    columns: across,
    rows: across,
    total: places.length,
    squares: allPlaced(filter, known)
      ? placed(filter, known)
      : places
          .slice(0, shown.length)
          .map(([column, row], k) => ({ column, row, state: shown[k]!, kept: null })),
  };
}

/** Squares that photographs not yet searched, or refused, are drawn with: as many as the others of the filter hold. */
function share(photos: number, filter: FilterJson, most: number): number {
  if (photos === 0) return 0;
  const known = filter.photos.find((photo) => photo.scale?.squares)?.scale?.squares;
  // Nothing tells how much they show: they then stand for all that is left.
  return known ? Math.min(most, photos * known) : most;
}

/** Every square of a filter's disc that a photograph may show, row by row. */
export function placesOnDisc(filter: FilterJson): readonly (readonly [column: number, row: number])[] {
  const diameterMm = filter.effective_diameter_mm ?? DRAWN.diameterMm;
  const pitchMm = filter.pitch_mm ?? DRAWN.pitchMm;
  return whole(Math.max(1, Math.ceil(diameterMm / pitchMm)), diameterMm / pitchMm / 2);
}

/** Where photographs were said to lie. */
export type Places = ReadonlyMap<string, readonly [column: number, row: number] | null>;

/** True where every photograph of the filter has its place: the drawn squares are then the real ones. */
export const allPlaced = (filter: FilterJson, places: Places): boolean =>
  filter.photos.length > 0 && filter.photos.every((photo) => places.has(photo.id));

/** The squares as they were photographed, one for each photograph that shows a square of its own. */
function placed(filter: FilterJson, places: Places): readonly DiscSquare[] {
  const squares = new Map<string, DiscSquare>();
  for (const photo of filter.photos) {
    const square = places.get(photo.id);
    const shown = square ? [square] : placesOnDisc(filter);
    for (const [column, row] of shown) {
      const key = `${column},${row}`;
      const state = STATE_OF[photo.state];
      const there = squares.get(key);
      // Looked at once is looked at, whatever a second photograph of it lacks.
      if (there?.state === 'looked') continue;
      squares.set(key, { column, row, state, kept: null });
    }
  }
  return [...squares.values()];
}

const STATE_OF: { readonly [S in PhotoJson['state']]: SquareState } = {
  waiting: 'photographed',
  searching: 'photographed',
  searched: 'looked',
  refused: 'cannot-be-seen',
  stopped: 'photographed',
};

/** Squares whose middle lies on the disc, row by row. */
function whole(across: number, radius: number): readonly (readonly [number, number])[] {
  const places: [number, number][] = [];
  for (let row = 0; row < across; row++) {
    for (let column = 0; column < across; column++) {
      const x = column + 0.5 - across / 2;
      const y = row + 0.5 - across / 2;
      if (Math.hypot(x, y) <= radius) places.push([column, row]);
    }
  }
  return places;
}

export type Square = readonly [column: number, row: number];

/** As the drawn disc names its squares: column and row from 1. */
export const squareWords = ([column, row]: Square): string => `square ${column + 1}, ${row + 1}`;

/** Squares that no photograph shows, where photographs show one square each; none where one shows the whole disc. */
export function unphotographed(filter: FilterJson, places: Places): readonly Square[] {
  const shown = filter.photos.flatMap((photo) => (places.has(photo.id) ? [places.get(photo.id)!] : []));
  if (shown.length === 0 || shown.some((square) => square === null)) return [];
  const taken = new Set(shown.map(String));
  return placesOnDisc(filter).filter((square) => !taken.has(String(square)));
}

/** How a stage is driven over the squares. */
export type Way = 'rows' | 'there-and-back';

/** The photographs without a place in the order of their names, each with the next free square along the way. */
export function placedInOrder(
  filter: FilterJson,
  places: Places,
  way: Way,
): readonly { readonly photo: string; readonly square: Square }[] {
  const taken = new Set([...places.values()].filter((square) => square !== null).map(String));
  const free = placesOnDisc(filter)
    .filter((square) => !taken.has(String(square)))
    .sort(
      ([a, row], [b, other]) => row - other || (way === 'there-and-back' && row % 2 === 1 ? b - a : a - b),
    );
  const byName = new Intl.Collator('en', { numeric: true });
  return filter.photos
    .filter((photo) => !places.has(photo.id))
    .sort((a, b) => byName.compare(a.name, b.name))
    .slice(0, free.length)
    .map((photo, k) => ({ photo: photo.id, square: free[k]! }));
}
