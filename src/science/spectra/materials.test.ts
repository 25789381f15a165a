import { describe, expect, it } from 'vitest';
import { familyNamed, kin, kindOf } from './materials.ts';

describe('a name of a material', () => {
  it.each([
    ['Polyethylene 1', 'PE'],
    ['LDPE film', 'PE'],
    ['PE_012.csv', 'PE'],
    ['pet3', 'polyester (PET)'],
    ['Polyethylene terephthalate', 'polyester (PET)'],
    ['VLFR_06-PET_nobio_ATR_07c84812.csv', 'polyester (PET)'],
    ['Cotton-11', 'cellulose/plant'],
    ['Cellulose acetate, filter', 'CA'],
    ['Nylon 6,6', 'PA'],
    ['PA66', 'PA'],
    ['Poly(methyl methacrylate)', 'PMMA'],
    ['Modacrylic', 'PAN'],
    ['hairs', 'protein'],
    ['HumanHair', 'protein'],
    ['Styrene-butadiene rubber', 'rubber'],
    ['calcium carbonate', 'calcite'],
  ])('%s', (text, family) => expect(familyNamed(text)?.family.family).toBe(family));

  it.each(['sample 12', 'a7f3', 'run-2026', 'spectrum', 'PE or PP?'])('is not read into %s', (text) =>
    expect(familyNamed(text)).toBeNull(),
  );

  it('tells natural from regenerated within a family', () => {
    expect(kindOf('cotton', 'cellulose/plant')).toBe('natural');
    expect(kindOf('viscose', 'cellulose/plant')).toBe('semi-synthetic');
    expect(kindOf('PE', 'PE')).toBe('plastic');
    expect(kindOf('grout', 'grout')).toBe('unknown');
  });

  it('knows labels that overlap', () => {
    expect(kin('PE/PP', 'PP')).toBe(true);
    expect(kin('PE', 'PP')).toBe(false);
    expect(kin('cellulose/plant', 'cotton')).toBe(true);
    expect(kin('cellulose/plant', 'CA')).toBe(false);
  });
});
