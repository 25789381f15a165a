import { describe, expect, it } from 'vitest';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { discOf, isHidden, placedInOrder, unphotographed } from './squares.ts';

const photo = (state: PhotoJson['state'], squares: number | null): PhotoJson => ({
  id: 'p',
  filter: 'f',
  name: 'p.jpg',
  sha256: '0'.repeat(64),
  width_px: 100,
  height_px: 100,
  added_at: '2026-01-01T00:00:00Z',
  state,
  refusal: null,
  warnings: [],
  scale:
    squares === null
      ? null
      : {
          um_per_px: 6,
          relative_uncertainty: 0.01,
          basis: 'printed-grid',
          pitch_mm: 3.1,
          rotation_deg: 0,
          squares,
        },
  floor_um: null,
  searched_fraction: null,
  particles: null,
  kept: null,
  undecided: null,
  tiles: { width_px: 100, height_px: 100, tile_px: 256, levels: 1 },
});

const filter = (examined: number, photos: readonly PhotoJson[]): FilterJson => ({
  id: 'f',
  name: 'F',
  run: { id: 'r', name: 'R', kind: 'specimen-run' },
  material: '',
  pore_um: null,
  effective_diameter_mm: 41,
  pitch_mm: 3.1,
  lot: null,
  examined,
  count: { state: 'not-looked' },
  together: null,
  scope: { from_um: 50, to_um: null, some: false },
  photos: [...photos],
});
const states = (given: FilterJson) => {
  const { squares, total } = discOf(given);
  const of = (state: string) => squares.filter((square) => square.state === state).length;
  return { looked: of('looked'), waiting: of('photographed'), hidden: of('cannot-be-seen'), total };
};

describe('the disc of a filter', () => {
  it('has about as many squares as its area holds', () => {
    expect(discOf(filter(0, [])).total).toBeGreaterThan((Math.PI * 41 ** 2) / 4 / 3.1 ** 2 - 12);
    expect(discOf(filter(0, [])).total).toBeLessThan((Math.PI * 41 ** 2) / 4 / 3.1 ** 2 + 12);
  });
  it('fills nothing where nobody photographed', () => {
    expect(states(filter(0, []))).toMatchObject({ looked: 0, waiting: 0, hidden: 0 });
  });
  it('fills the share that was examined', () => {
    const { looked, total } = states(filter(0.5, [photo('searched', 12)]));
    expect(looked / total).toBeCloseTo(0.5, 1);
  });
  it('shows a refused photograph as squares that cannot be seen, never as looked at', () => {
    const { looked, hidden, total } = states(filter(0, [photo('refused', null)]));
    expect(looked).toBe(0);
    expect(hidden).toBe(total);
  });
  it('says hidden only where photographs are there and none could be searched', () => {
    expect(isHidden(filter(0, []))).toBe(false);
    expect(isHidden(filter(0, [photo('refused', null)]))).toBe(true);
    expect(isHidden(filter(0.5, [photo('refused', null), photo('searched', 12)]))).toBe(false);
  });
  it('shows photographs that wait as many squares as their neighbours hold', () => {
    expect(states(filter(0.09, [photo('searched', 12), photo('waiting', null)]))).toMatchObject({
      waiting: 12,
    });
  });
});

describe('photographs of one square each', () => {
  const named = (id: string, name: string): PhotoJson => ({ ...photo('searched', 1), id, name });
  // a disc of 9.3 mm with squares of 3.1 mm holds three by three
  const three = (photos: PhotoJson[]) => ({
    ...filter(0.5, photos),
    effective_diameter_mm: 9.3,
    pitch_mm: 3.1,
  });

  it('go by their names to the next free squares, row by row, or there and back', () => {
    const many = three([
      named('j', 'x10.jpg'),
      named('b', 'x2.jpg'),
      named('a', 'x1.jpg'),
      named('c', 'x9.jpg'),
    ]);
    const at = (way: 'rows' | 'there-and-back') =>
      placedInOrder(many, new Map([['a', [0, 0]]]), way).map(({ photo: id, square }) => `${id} ${square}`);
    expect(at('rows')).toEqual(['b 1,0', 'c 2,0', 'j 0,1']);
    expect(at('there-and-back')).toEqual(['b 1,0', 'c 2,0', 'j 2,1']);
  });

  it('leave squares that nobody photographed, unless one shows the whole disc or nothing was said', () => {
    const two = three([named('a', 'a.jpg'), named('b', 'b.jpg')]);
    const missing = unphotographed(
      two,
      new Map([
        ['a', [0, 0]],
        ['b', [1, 0]],
      ]),
    );
    expect(missing).toHaveLength(7);
    expect(missing[0]).toEqual([2, 0]);
    expect(unphotographed(two, new Map([['a', null]]))).toEqual([]);
    expect(unphotographed(two, new Map())).toEqual([]);
  });
});
