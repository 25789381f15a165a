import { expect, it } from 'vitest';
import { leftOver } from './left-over.ts';
import type { Spectrum } from './spectrum.ts';

const bands = (from: number, to: number, ...all: readonly [at: number, size: number][]): Spectrum => {
  const axis = Float64Array.from({ length: (to - from) / 2 + 1 }, (_, k) => from + 2 * k);
  const height = axis.map((x) =>
    all.reduce((sum, [at, size]) => sum + size * Math.exp(-0.5 * ((x - at) / 12) ** 2), 0),
  );
  return { title: '', technique: 'infrared', axis, height, taken: [] };
};

it('nothing is left of a spectrum that is its reference at another scale', () => {
  const found = leftOver(
    bands(600, 4000, [1720, 1], [1100, 0.5]),
    bands(600, 4000, [1720, 0.2], [1100, 0.1]),
  );
  expect(found.share).toBeLessThan(1e-3);
});

it('a band that the reference has not is left, at its place and size', () => {
  const query = bands(600, 4000, [1720, 1], [1100, 0.5], [2900, 0.6]);
  const { axis, height, share } = leftOver(query, bands(700, 3500, [1720, 1], [1100, 0.5]));
  const top = height.indexOf(Math.max(...height));
  expect(axis[top]).toBeCloseTo(2900, -1);
  expect(height[top]).toBeCloseTo(0.6, 1);
  // squares: 0.36 of 1 + 0.25 + 0.36
  expect(share).toBeCloseTo(0.36 / 1.61, 1);
});

it('two spectra without a common stretch have nothing to be left', () => {
  expect(() => leftOver(bands(700, 1200, [900, 1]), bands(2500, 3200, [2900, 1]))).toThrow(RangeError);
});
