import { describe, expect, it } from 'vitest';
import { readGrams, readMicrometres, readMillilitres, readMillimetres } from './index.ts';

const value = (r: { ok: boolean } & ({ value?: number } | object)): number | undefined =>
  r.ok ? (r as { value: number }).value : undefined;
const why = (r: { ok: boolean } & ({ refusal?: { why: string } } | object)): string | undefined =>
  r.ok ? undefined : (r as { refusal: { why: string } }).refusal.why;

describe('reading a quantity', () => {
  it.each([
    ['3.1mm', 3100],
    ['50um', 50],
    ['50 µm', 50],
    ['50 μm', 50],
    ['0,5 cm', 5000],
  ])('%s is %d µm', (text, expected) => {
    expect(value(readMicrometres(text))).toBeCloseTo(expected, 9);
  });

  it('converts to the unit asked for', () => {
    expect(value(readMillimetres('3100 um'))).toBeCloseTo(3.1, 12);
    expect(value(readGrams('250 mg'))).toBeCloseTo(0.25, 12);
    expect(value(readMillilitres('0.2 L'))).toBeCloseTo(200, 12);
  });

  it.each([
    ['3.1', 'wrong-unit'],
    ['3 g', 'wrong-unit'],
    ['-3 mm', 'out-of-range'],
    ['1e999 mm', 'out-of-range'],
    ['three mm', 'not-a-quantity'],
    ['', 'not-a-quantity'],
    ['constructor', 'not-a-quantity'],
    ['3 constructor', 'wrong-unit'],
  ])('refuses “%s” (%s)', (text, expected) => {
    expect(why(readMicrometres(text))).toBe(expected);
  });
});
