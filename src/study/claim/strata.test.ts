import { describe, expect, it } from 'vitest';
import type { RunForInput } from '../counting-input.ts';
import type { Filter } from '../records/filter.ts';
import type { ParticleRecord } from '../records/found.ts';
import type { CountedPiece } from './pieces.ts';
import { extentUncertainty, recoveryStrataOf } from './strata.ts';

const piece = (feretMaxUm: number, square: readonly [number, number] | null = null): CountedPiece => ({
  run: 'S1',
  particle: {
    feretMaxUm,
    shapeNow: 'fragment',
    fibreLengthUm: null,
    square,
    photo: 'p',
  } as unknown as ParticleRecord,
});
const spiked = (sizeUm: number | null, recovered: number, added = 40): RunForInput =>
  ({
    run: { kind: 'spiked-run', spike: { added, sizeUm, colour: 'orange', material: '' } },
    recovered,
  }) as unknown as RunForInput;

describe('recovery by the size of the known pieces', () => {
  const sides = { specimens: [90, 110, 150, 280, 320].map((n) => piece(n)), controls: [piece(100)] };

  it('gives every counted piece to the nearest size, in the logarithm', () => {
    const strata = recoveryStrataOf([spiked(100, 20), spiked(300, 36), spiked(100, 22)], sides);
    expect(strata).toEqual([
      {
        name: 'about 100 µm',
        spikes: [
          { found: 20, added: 40 },
          { found: 22, added: 40 },
        ],
        specimens: 3,
        controls: 1,
      },
      { name: 'about 300 µm', spikes: [{ found: 36, added: 40 }], specimens: 2, controls: 0 },
    ]);
  });

  it.each([
    ['one size', [spiked(100, 20), spiked(100, 22)]],
    ['no sizes', [spiked(null, 20), spiked(null, 22)]],
    ['nothing back of one size', [spiked(100, 0), spiked(300, 30)]],
    ['more back than put in', [spiked(100, 50), spiked(300, 30)]],
  ])('is not told apart by %s', (_, runs) => {
    expect(recoveryStrataOf(runs, sides)).toEqual([]);
  });
});

describe('what was looked at, from how pieces lie over the squares', () => {
  const filter = { effectiveDiameterMm: 40, pitchMm: 3.1 } as unknown as Filter;
  const run = (examined: number) => ({ examined }) as unknown as RunForInput;

  it('is not uncertain where the whole filter was photographed', () => {
    expect(extentUncertainty(run(1), [filter], [piece(100, [1, 1])])).toBeNull();
  });

  // by hand: 130.8 squares, a quarter is 33; 20 pieces on one square and none on 32: mean 20/33, variance 400/33 − …
  it('is the more so the more the pieces crowd', () => {
    const crowded = extentUncertainty(run(0.25), [filter], Array(20).fill(piece(100, [1, 1])))!;
    const even = extentUncertainty(
      run(0.25),
      [filter],
      Array.from({ length: 20 }, (_, k) => piece(100, [k, 0])),
    )!;
    const mean = 20 / 33;
    const variance = ((20 - mean) ** 2 + 32 * mean ** 2) / 32;
    const variation = Math.sqrt(variance - mean) / mean;
    const all = ((Math.PI / 4) * 1600) / 3.1 ** 2;
    expect(crowded).toBeCloseTo(variation * Math.sqrt((1 - 33 / all) / 33), 9);
    expect(even).toBe(0);
  });
});
