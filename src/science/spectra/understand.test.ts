import { describe, expect, it } from 'vitest';
import type { RawSpectrum } from './spectrum.ts';
import { techniqueIsGuessed, understand } from './understand.ts';

const raw = (over: Partial<RawSpectrum> & { readonly from?: number; readonly to?: number }): RawSpectrum => {
  const { from = 4000, to = 600, ...rest } = over;
  const x = Float64Array.from({ length: 400 }, (_, k) => from + ((to - from) * k) / 399);
  const y = x.map(
    (v, k) => 0.05 + Math.exp(-(((v - (from + to) / 2) / (Math.abs(to - from) / 30)) ** 2)) + 0.001 * (k % 3),
  );
  return { title: 'board', x, y, xUnit: 'cm-1', yUnit: 'absorbance', remarks: [], ...rest };
};
const known = (given: RawSpectrum, told = {}) => {
  const outcome = understand(given, 'board.csv', told);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
};
const why = (given: RawSpectrum) => {
  const outcome = understand(given, 'board.csv');
  return outcome.ok ? 'understood' : `${outcome.refusal.why}: ${outcome.refusal.message}`;
};

describe('a spectrum is brought to ascending cm⁻¹ with bands upwards', () => {
  it('from a falling axis', () => {
    const { axis, technique } = known(raw({}));
    expect(axis[0]).toBe(600);
    expect(axis.at(-1)).toBe(4000);
    expect(technique).toBe('infrared');
  });

  it('from wavelengths in µm and nm: 10⁴/λ and 10⁷/λ', () => {
    const um = known(raw({ from: 2.5, to: 15, xUnit: 'Wavelength (um)' }));
    expect(um.axis[0]).toBeCloseTo(1e4 / 15, 6);
    expect(um.axis.at(-1)).toBeCloseTo(4000, 6);
    const nm = known(raw({ from: 2500, to: 15_000, xUnit: 'nm' }));
    expect(nm.axis.at(-1)).toBeCloseTo(4000, 6);
  });

  it('from Raman wavelengths by the laser: shift = 10⁷/laser − 10⁷/λ', () => {
    const given = raw({ from: 534, to: 640, xUnit: 'nm', yUnit: 'Intensity' });
    const guessed = known(given);
    expect(guessed.technique).toBe('raman');
    expect(guessed.axis[0]).toBeCloseTo(1e7 / 532 - 1e7 / 534, 6);
    expect(guessed.taken.join(' ')).toMatch(/532 nm/);
    expect(known(given, { laserNm: 532.2 }).axis[0]).toBeCloseTo(1e7 / 532.2 - 1e7 / 534, 6);
  });

  it('from transmittance, in per cent or parts of one: A = −log₁₀ T', () => {
    const part = raw({ yUnit: 'transmittance' });
    const parts = { ...part, y: part.y.map((v) => 1 - 0.8 * v) };
    const a = known(parts).height;
    const b = known({ ...parts, y: parts.y.map((v) => 100 * v), yUnit: '%T' }).height;
    for (const [k, v] of a.entries()) expect(b[k]).toBeCloseTo(v, 9);
    expect(a[0]).toBeCloseTo(-Math.log10(parts.y.at(-1)!), 9);
  });

  it('also where its base was taken off and stands at 0', () => {
    const given = raw({});
    expect(known({ ...given, y: given.y.map((v) => Math.max(0, v - 0.1)) }).height).toHaveLength(400);
  });

  it('says what it took for granted', () => {
    const { taken } = known(raw({ xUnit: null, yUnit: null }));
    expect(taken.length).toBeGreaterThanOrEqual(2);
  });
});

describe('a technique that is not named', () => {
  it.each([
    ['“intensity” from 400 to 4000, numbers of absorbance, above both', 4000, 400, 1, 'infrared'],
    ['“intensity” from 200', 200, 3200, 1, 'raman'],
    ['counts', 600, 3200, 4000, 'raman'],
  ])('is taken from the numbers: %s', (_words, from, to, times, technique) => {
    const given = raw({ from, to, yUnit: 'intensity', xUnit: 'wavenumber' });
    const found = known({ ...given, y: given.y.map((v) => v * times) });
    expect(found.technique).toBe(technique);
    expect(techniqueIsGuessed(found)).toBe(true);
  });
});

describe('bad input gets one sentence', () => {
  const base = raw({});
  const with_ = (at: number, change: Partial<{ x: number; y: number }>): RawSpectrum => ({
    ...base,
    x: base.x.map((v, k) => (k === at && change.x !== undefined ? change.x : v)),
    y: base.y.map((v, k) => (k === at && change.y !== undefined ? change.y : v)),
  });
  it.each([
    ['three points', { ...base, x: base.x.slice(0, 3), y: base.y.slice(0, 3) }, /^too-few-points.*3 points/],
    ['a place twice', with_(5, { x: base.x[4]! }), /^duplicate-axis.*two points at/],
    ['an axis that turns', with_(5, { x: base.x[3]! + 0.1 }), /^axis-turns/],
    ['no number', with_(5, { y: Number.NaN }), /^not-finite/],
    [
      'no light through',
      { ...base, yUnit: '%T', y: base.y.map((v) => Math.max(0, 80 - 400 * v)) },
      /^saturated/,
    ],
    ['flat', { ...base, y: base.y.map(() => 0.3) }, /^flat/],
    ['saturated', { ...base, y: base.y.map((v) => Math.min(v, 0.3)) }, /^saturated.*points in a row/],
    [
      'per cent that call themselves absorbance',
      { ...base, y: base.y.map((v) => 90 - 40 * v) },
      /^wrong-units.*absorbance/,
    ],
    ['an axis in no known unit', { ...base, xUnit: 'parsec' }, /^unknown-axis/],
    ['a sliver', { ...base, x: base.x.map((v) => 1700 + v / 100) }, /^too-narrow/],
    [
      'light that is visible',
      raw({ from: 350, to: 700, xUnit: 'nm', yUnit: 'absorbance' }),
      /^too-narrow|^wrong-units/,
    ],
  ])('%s', (_words, given, sentence) => expect(why(given)).toMatch(sentence));
});

describe('bands cut off flat', () => {
  const clipped = (at: number) => {
    const given = raw({});
    return known({ ...given, y: given.y.map((v) => Math.min(v, at)) }).taken.join(' ');
  };
  it('are told of, with their place', () => {
    expect(clipped(0.85)).toMatch(/cut off flat \(at (229|230)\d cm⁻¹\)/);
  });
  it('are not seen in a band whose top is only rounded', () => {
    const given = raw({});
    const rounded = { ...given, y: given.y.map((v) => Math.round(v * 50) / 50) };
    expect(known(rounded).taken.join(' ')).not.toMatch(/cut off/);
    expect(clipped(2)).not.toMatch(/cut off/);
  });
});
