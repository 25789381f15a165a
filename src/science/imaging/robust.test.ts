import { describe, expect, it } from 'vitest';
import { ascending } from './robust.ts';

describe('ascending', () => {
  /** Checked against the engine's own sort, which stands in the language's standard (ECMA-262, %TypedArray%.prototype.sort). */
  it.each([1, 2, 399, 400, 5000])(
    'puts %i values in order, of all signs and sizes, and leaves them as they were',
    (n) => {
      const values = Float32Array.from(
        { length: n },
        (_, i) => Math.sin(i * 12.9898) * 10 ** (((i * 7) % 60) - 30),
      );
      values[n >> 1] = 0;
      values[n >> 2] = values[n - 1]!;
      const before = values.slice();
      const found = ascending(values);
      expect(found).toEqual(values.slice().sort());
      expect(values).toEqual(before);
    },
  );

  it('tells the infinite from the finite, at either end', () => {
    const values = new Float32Array(500).fill(-1e38);
    values[3] = Number.POSITIVE_INFINITY;
    values[7] = Number.NEGATIVE_INFINITY;
    values[9] = 3e38;
    const found = ascending(values);
    expect([found[0], found[1], found[498], found[499]]).toEqual([
      Number.NEGATIVE_INFINITY,
      Math.fround(-1e38),
      Math.fround(3e38),
      Number.POSITIVE_INFINITY,
    ]);
  });
});
