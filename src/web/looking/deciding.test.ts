import { describe, expect, it } from 'vitest';
import type { MarkedParticleJson } from '../../api/index.ts';
import { inOrder, withWaiting } from './deciding.ts';

const particle = (number: number, more: Partial<MarkedParticleJson> = {}): MarkedParticleJson => ({
  id: `p${number}`,
  number,
  decision: 'undecided',
  counts: true,
  counts_on: null,
  disagree: [],
  outline_px: [
    [0, 0],
    [4, 0],
    [4, 4],
  ],
  centroid_px: [2, 2],
  area_px2: 8,
  feret_max_px: 5,
  feret_min_px: 3,
  area_um2: null,
  feret_max_um: null,
  feret_min_um: null,
  equivalent_diameter_um: null,
  perimeter_um: null,
  circularity: 0.8,
  solidity: 1,
  fibre_length_um: null,
  fibre_width_um: null,
  shape: 'fragment',
  shape_because: 'test',
  colour: 'blue',
  lab: [50, 0, 0],
  touches_frame: false,
  square: null,
  frame_weight: 1,
  certainty: 0.9,
  certainty_because: { real: 0.9, lightness: 5, colour: 5, ridge: 0 },
  ...more,
});

describe('marks that wait', () => {
  it('show at once, in the order they were made', () => {
    const shown = withWaiting(
      [particle(1), particle(2)],
      [
        { key: 'a', study: 's', photo: 'x', wish: { deed: 'drop', particles: ['p1', 'p2'] } },
        { key: 'b', study: 's', photo: 'x', wish: { deed: 'keep', particles: ['p2'] } },
      ],
      'x',
    );
    expect(shown.map((p) => [p.decision, p.counts])).toEqual([
      ['dropped', false],
      ['kept', true],
    ]);
  });
  it('of another photo change nothing', () => {
    const given = [particle(1)];
    expect(
      withWaiting(
        given,
        [{ key: 'a', study: 's', photo: 'y', wish: { deed: 'drop', particles: ['p1'] } }],
        'x',
      ),
    ).toBe(given);
  });
});

describe('order of the strip', () => {
  it('puts what is doubtful and undecided first', () => {
    const order = inOrder(
      [
        particle(1, { certainty: 0.99 }),
        particle(2, { certainty: 0.5, decision: 'kept' }),
        particle(3, { certainty: 0.55 }),
      ],
      'doubt',
    ).map((p) => p.number);
    expect(order[0]).toBe(3);
  });
  it('puts the largest first by size', () => {
    const order = inOrder([particle(1), particle(2, { feret_max_px: 50 })], 'size').map((p) => p.number);
    expect(order).toEqual([2, 1]);
  });
});
