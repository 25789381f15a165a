import { describe, expect, it } from 'vitest';
import { savitzkyGolay, savitzkyGolayWeights } from './savitzky-golay.ts';

/** Tables of Savitzky & Golay 1964 with the corrections of 1972; the norms of the second derivative include 2!. */
describe('the published weights', () => {
  it.each([
    [5, 2, 0, [-3, 12, 17, 12, -3], 35],
    [7, 2, 0, [-2, 3, 6, 7, 6, 3, -2], 21],
    [9, 3, 0, [-21, 14, 39, 54, 59, 54, 39, 14, -21], 231],
    [11, 2, 0, [-36, 9, 44, 69, 84, 89, 84, 69, 44, 9, -36], 429],
    [7, 4, 0, [5, -30, 75, 131, 75, -30, 5], 231],
    [9, 5, 0, [15, -55, 30, 135, 179, 135, 30, -55, 15], 429],
    [11, 4, 0, [18, -45, -10, 60, 120, 143, 120, 60, -10, -45, 18], 429],
    [5, 2, 1, [-2, -1, 0, 1, 2], 10],
    [11, 2, 1, [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5], 110],
    [5, 2, 2, [2, -1, -2, -1, 2], 7],
    [7, 3, 2, [5, 0, -3, -4, -3, 0, 5], 42],
    [9, 2, 2, [28, 7, -8, -17, -20, -17, -8, 7, 28], 462],
    [11, 2, 2, [15, 6, -1, -6, -9, -10, -9, -6, -1, 6, 15], 429],
  ])('of %i points, degree %i, derivative %i', (window, degree, derivative, integers, norm) => {
    const weights = savitzkyGolayWeights(window, degree, derivative, 0);
    for (const [k, whole] of integers.entries()) expect(weights[k]).toBeCloseTo(whole / norm, 12);
  });
});

it('reads the ends off the last whole window', () => {
  // The example in the documentation of scipy.signal.savgol_filter, checked there by hand.
  const smooth = savitzkyGolay(Float64Array.from([2, 2, 5, 2, 1, 0, 1, 4, 9]), 5, 2, 0);
  const expected = [1.657143, 3.171429, 3.542857, 2.857143, 0.657143, 0.171429, 1, 4, 9];
  for (const [k, v] of expected.entries()) expect(smooth[k]).toBeCloseTo(v, 6);
});

it('refuses windows that cannot be', () => {
  expect(() => savitzkyGolay(new Float64Array(9), 4, 2, 0)).toThrow(RangeError);
  expect(() => savitzkyGolay(new Float64Array(3), 5, 2, 0)).toThrow(RangeError);
});
