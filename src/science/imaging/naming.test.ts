import { describe, expect, it } from 'vitest';
import { labAgainst, labOf, nameColour } from './colour-name.ts';
import { frameWeight } from './frame-weight.ts';
import { upperTail } from './thresholds.ts';

describe('pieces at the frame', () => {
  // Miles 1974 and Lantuéjoul 1980, as used in ISO 13322-1: P = (Z1 − Fx)(Z2 − Fy)/(Z1 Z2), worked by hand.
  it('weigh as Miles and Lantuéjoul have it', () => {
    expect(frameWeight(1000, 800, 100, 80)).toBeCloseTo(1.234568, 6);
    expect(frameWeight(1280, 960, 64, 32)).toBeCloseTo(1.088929, 6);
  });
  it('are refused when they fill the frame', () => {
    expect(() => frameWeight(100, 100, 100, 10)).toThrow(RangeError);
  });
});

describe('colour', () => {
  // CIELAB of the sRGB primaries under D65, from the definitions of IEC 61966-2-1 and CIE 15 (commonly tabulated).
  it.each([
    ['red', [1, 0, 0], [53.24, 80.09, 67.2]],
    ['green', [0, 1, 0], [87.73, -86.18, 83.18]],
    ['blue', [0, 0, 1], [32.3, 79.19, -107.86]],
  ] as const)('of the %s primary', (_, rgb, lab) => {
    const got = labOf(rgb[0], rgb[1], rgb[2]);
    for (let i = 0; i < 3; i++) expect(Math.abs(got[i]! - lab[i]!)).toBeLessThan(0.1);
  });

  it('is white for the membrane itself, whatever the light', () => {
    const [L, a, b] = labAgainst([0.8, 0.7, 0.5], [0.8, 0.7, 0.5]);
    expect(L).toBeCloseTo(100, 4);
    expect(Math.hypot(a, b)).toBeLessThan(0.02);
  });

  it.each([
    [[0.1, 0.1, 0.1], 'black'],
    [[0.55, 0.55, 0.55], 'grey'],
    [[0.97, 0.97, 0.97], 'white'],
    [[0.75, 0.12, 0.12], 'red'],
    [[0.95, 0.6, 0.7], 'pink'],
    [[0.95, 0.55, 0.1], 'orange'],
    [[0.95, 0.85, 0.2], 'yellow'],
    [[0.45, 0.3, 0.18], 'brown'],
    [[0.15, 0.55, 0.25], 'green'],
    [[0.15, 0.3, 0.7], 'blue'],
    [[0.45, 0.2, 0.6], 'purple'],
  ] as const)('%j has the name %s', (rgb, name) => {
    expect(nameColour(labAgainst(rgb, [1, 1, 1]))).toBe(name);
  });

  it('keeps clear apart from white', () => {
    expect(nameColour([97, 0, 0], true)).toBe('clear');
    expect(nameColour([97, 0, 0], false)).toBe('white');
  });
});

describe('the tail of the normal law', () => {
  // Standard normal table: upper tails 0.025, 0.005, 0.001.
  it('gives the usual thresholds', () => {
    expect(upperTail(0.025)).toBeCloseTo(1.95996, 3);
    expect(upperTail(0.005)).toBeCloseTo(2.57583, 3);
    expect(upperTail(0.001)).toBeCloseTo(3.09023, 3);
  });
});
