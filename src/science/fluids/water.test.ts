import { describe, expect, it } from 'vitest';
import { celsius } from '../../units/index.ts';
import { waterDensity, waterViscosity } from './index.ts';

describe('water', () => {
  // IAPWS-95 density and IAPWS 2008 viscosity at 0.101325 MPa, recomputed with an open property library; Kell 1975 as printed.
  const table: readonly (readonly [number, number, number, number])[] = [
    [5, 999.9666, 999.9638, 1.51817],
    [10, 999.7025, 999.6996, 1.3059],
    [15, 999.1026, 999.0996, 1.13757],
    [18, 998.5986, 998.5956, 1.05267],
    [20, 998.2072, 998.2041, 1.0016],
    [22, 997.7735, 997.7705, 0.9544],
    [25, 997.0476, 997.0449, 0.89002],
    [30, 995.6495, 995.6473, 0.79722],
    [35, 994.0333, 994.0319, 0.71913],
    [37, 993.3298, 993.3287, 0.6913],
    [40, 992.2164, 992.2158, 0.65273],
  ];

  it.each(table)('at %d °C has the density of Kell 1975, near IAPWS-95', (t, iapws, kell) => {
    expect(waterDensity(celsius(t))).toBeCloseTo(kell, 3);
    expect(Math.abs(waterDensity(celsius(t)) - iapws)).toBeLessThan(0.0032);
  });

  it.each(table)('at %d °C has the viscosity of IAPWS 2008 within 0.03 %', (t, _iapws, _kell, mu) => {
    expect(Math.abs(waterViscosity(celsius(t)) / mu - 1)).toBeLessThan(3e-4);
  });

  it('gives the two printed points of the simple formula (IAPWS SR6-08)', () => {
    expect(waterViscosity(celsius(25)) * 1000).toBeCloseTo(890.0, 1);
    expect(waterViscosity(celsius(20)) * 1000).toBeCloseTo(1001.57, 1);
  });

  it('agrees with the short table of the London South Bank University water page to its rounding', () => {
    const printed = [
      [0, 999.8, 1.792],
      [10, 999.7, 1.307],
      [20, 998.2, 1.002],
      [30, 995.7, 0.797],
      [40, 992.2, 0.653],
    ] as const;
    for (const [t, density, viscosity] of printed) {
      expect(Math.abs(waterDensity(celsius(t)) - density)).toBeLessThan(0.06);
      expect(Math.abs(waterViscosity(celsius(t)) - viscosity)).toBeLessThan(0.0013);
    }
  });

  it.each([-1, 101, Number.NaN])('refuses %d °C', (t) => {
    expect(() => waterDensity(t as never)).toThrow(RangeError);
    expect(() => waterViscosity(t as never)).toThrow(RangeError);
  });
});
