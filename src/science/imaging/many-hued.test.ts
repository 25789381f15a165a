import { describe, expect, it } from 'vitest';
import { hasHighlight, manyHued } from './many-hued.ts';

const filled = (n: number, v: number) => Array.from({ length: n }, () => v);

describe('manyHued', () => {
  it('is told of two hues side by side, not of one hue in light and shade', () => {
    expect(manyHued([...filled(30, 0.4), ...filled(30, -0.3)], [...filled(30, 0), ...filled(30, -0.3)])).toBe(
      true,
    );
    expect(
      manyHued([...filled(30, 0.4), ...filled(30, 0.15)], [...filled(30, 0.2), ...filled(30, 0.08)]),
    ).toBe(false);
  });

  it('is not told of a grey piece with a coloured speck', () => {
    expect(manyHued([...filled(50, 0.01), ...filled(10, 0.4)], filled(60, 0))).toBe(false);
  });
});

describe('hasHighlight', () => {
  it('is told of a small bright spot, not of a bright half', () => {
    expect(hasHighlight([...filled(50, -0.5), ...filled(5, 0.1)])).toBe(true);
    expect(hasHighlight([...filled(30, -0.5), ...filled(25, 0.1)])).toBe(false);
    expect(hasHighlight(filled(50, -0.5))).toBe(false);
  });
});
