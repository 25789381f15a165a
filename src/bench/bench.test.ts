import { describe, expect, it } from 'vitest';
import {
  acceptAnswer,
  BENCH_TESTS,
  benchTest,
  classOfName,
  NO_RESULTS,
  outsideRange,
  whatItSays,
} from './index.ts';

const test = (id: string) => {
  const found = benchTest(id);
  if (!found) throw new Error(`no test ${id}`);
  return found;
};
const says = (id: string, value: string | number, setting: string | null = null) =>
  whatItSays(test(id), { value, setting }).plastic;
const piece = { feretMaxUm: 300, shape: 'fragment' as const, filterMaterial: null };

describe('bench tests', () => {
  it.each(BENCH_TESTS.map((one) => [one.id, one] as const))(
    '%s declares all that a person must know',
    (_id, one) => {
      expect(one.asks).toMatch(/\?|answer\.$/);
      expect(one.source).not.toBe('');
      expect(one.blindSpots).not.toBe('');
      expect(one.hazards.length).toBeGreaterThan(0);
      expect(one.steps.length).toBeGreaterThan(1);
      if (one.destroys) {
        const last = one.steps.findIndex((step) => step.noWayBack);
        const photo = one.steps.findIndex((step) => step.photo === 'before');
        expect(photo).toBeGreaterThanOrEqual(0);
        expect(photo).toBeLessThan(last);
        expect(one.hazards.join(' ')).toMatch(/local rules/i);
      }
    },
  );

  it('have ids of their own', () => {
    expect(new Set(BENCH_TESTS.map((one) => one.id)).size).toBe(BENCH_TESTS.length);
  });

  it.each(NO_RESULTS.map((one) => one.value))('“%s” speaks neither for nor against', (value) => {
    for (const one of BENCH_TESTS) {
      const setting = one.settings[0]?.value ?? null;
      expect(acceptAnswer(one, { value, setting }).ok).toBe(true);
      expect(whatItSays(one, { value, setting })).toMatchObject({
        plastic: 'nothing',
        favours: [],
        against: [],
      });
    }
  });

  it.each([
    ['heated-needle', 'melts', 'tip-350', 'for'],
    ['heated-needle', 'curls', 'tip-350', 'for'],
    ['heated-needle', 'softens', 'tip-350', 'nothing'],
    ['heated-needle', 'chars', 'tip-350', 'against'],
    ['warm-water', 'runs', null, 'against'],
    ['warm-water', 'stays', null, 'nothing'],
    ['solvent-spot', 'dissolves', 'acetone', 'for'],
    ['solvent-spot', 'stays', 'acetone', 'nothing'],
    ['crossed-polars', 'cross', null, 'against'],
    ['crossed-polars', 'even', null, 'nothing'],
    ['press-or-scratch', 'springs', null, 'for'],
    ['lipophilic-dye', 'yes', 'nile-red', 'nothing'],
    ['spectrum', 'Polyethylene, low density', 'infrared', 'for'],
    ['spectrum', 'Cotton', 'infrared', 'against'],
    ['spectrum', 'cannot-tell', 'infrared', 'nothing'],
  ] as const)('%s: %s (%s) speaks %s plastic', (id, value, setting, expected) => {
    expect(says(id, value, setting)).toBe(expected);
  });

  it('float or sink follows the density of the named liquid', () => {
    const judgedIn = (value: string, setting: string) =>
      whatItSays(test('float-or-sink'), { value, setting });
    // what floats in water is neither cotton nor stone; polyethylene may be; what sinks may be PET or viscose
    expect(judgedIn('floats', 'water').against).toEqual(
      expect.arrayContaining(['natural-fibre', 'mineral', 'metal', 'semi-synthetic']),
    );
    expect(judgedIn('floats', 'water').against).not.toContain('thermoplastic');
    expect(judgedIn('sinks', 'iodide-1.60').favours).toEqual(['mineral', 'metal']);
    expect(judgedIn('hovers', 'water').plastic).toBe('nothing');
  });

  it('are not tests outside their range', () => {
    const needle = test('heated-needle');
    expect(outsideRange(needle, piece)).toBeNull();
    expect(outsideRange(needle, { ...piece, feretMaxUm: 60 })).toMatch(/^Not tested:/);
    expect(outsideRange(needle, { ...piece, shape: 'fibre', feretMaxUm: 150 })).toMatch(/below 200 µm/);
    expect(outsideRange(needle, { ...piece, feretMaxUm: null })).toMatch(/size of this piece is not known/);
    expect(outsideRange(needle, { ...piece, filterMaterial: 'Cellulose nitrate, white' })).toMatch(
      /glass slide first/,
    );
  });

  it('take no answer that is none of theirs', () => {
    const whyOf = (id: string, value: string | number, setting: string | null) => {
      const taken = acceptAnswer(test(id), { value, setting });
      return taken.ok ? 'taken' : taken.refusal.why;
    };
    expect(whyOf('heated-needle', 'explodes', 'tip-350')).toBe('not-an-answer');
    expect(whyOf('heated-needle', 'melts', null)).toBe('not-a-setting');
    expect(whyOf('magnet', 'perhaps', null)).toBe('not-an-answer');
    expect(whyOf('spectrum', '  ', 'raman')).toBe('not-an-answer');
    expect(whyOf('spectrum', 'PET', 'raman')).toBe('taken');
  });

  it.each([
    ['polyethylene terephthalate', 'thermoplastic'],
    ['PP', 'thermoplastic'],
    ['viscose (rayon)', 'semi-synthetic'],
    ['cellulose acetate', 'semi-synthetic'],
    ['polyurethane', 'thermoset-or-rubber'],
    ['cotton', 'natural-fibre'],
    ['human hair', 'hair-or-silk'],
    ['calcium carbonate', 'mineral'],
    ['zirconium unobtainide', null],
  ])('a spectrum called “%s” is of class %s', (name, expected) => {
    expect(classOfName(name)).toBe(expected);
  });
});
