import { describe, expect, it } from 'vitest';
import {
  adviseDigestion,
  EQUIPMENT,
  harmTo,
  judgeCoupon,
  MATRICES,
  MATRIX_FACTS,
  POLYMER_GROUPS,
  type PolymerGroup,
  REAGENTS,
} from './index.ts';

const advise = (given: Partial<Parameters<typeof adviseDigestion>[0]>) => {
  const made = adviseDigestion({
    matrix: 'plant',
    polymers: [],
    setting: 'laboratory',
    equipment: EQUIPMENT,
    massG: null,
    ...given,
  });
  if (!made.ok) throw new Error(made.refusal.message);
  return made.value;
};
const standing = (given: Partial<Parameters<typeof adviseDigestion>[0]>, reagent: string) =>
  advise(given).options.find((option) => option.facts.reagent === reagent)?.standing;

describe('harm to polymers', () => {
  it('has a word, a note and a backing for every polymer and reagent', () => {
    for (const polymer of POLYMER_GROUPS)
      for (const reagent of REAGENTS) {
        const cell = harmTo(polymer, reagent);
        expect(['ok', 'caution', 'harm']).toContain(cell.harm);
        expect(cell.note).not.toBe('');
        expect(cell.backing.from).not.toBe('');
      }
  });

  // Project fixtures: alkali with these targets must warn; published cells keep their source.
  it.each(['PLA', 'CA', 'PVAC'] as const)('cold alkali harms %s', (polymer) => {
    expect(harmTo(polymer, 'cold-alkali').harm).toBe('harm');
  });
  it('alkali of 60 °C destroys PET fibres (Sarno 2021) and polylactide (Pfohl 2021)', () => {
    expect(harmTo('PET', 'hot-alkali')).toMatchObject({ harm: 'harm', backing: { seen: 'abstract' } });
    expect(harmTo('PLA', 'hot-alkali').backing.from).toMatch(/Pfohl/);
    expect(harmTo('PC', 'hot-alkali').harm).toBe('harm');
  });
  it('Fenton leaves PE, PP, PVC and nylon (Tagg 2017), and destroys cellulose acetate', () => {
    for (const polymer of ['PE', 'PP', 'PVC', 'PA'] as PolymerGroup[])
      expect(harmTo(polymer, 'fenton')).toMatchObject({ harm: 'ok', backing: { seen: 'abstract' } });
    expect(harmTo('CA', 'fenton').harm).toBe('harm');
  });
  it('hypochlorite and acids harm nylon', () => {
    expect(harmTo('PA', 'hypochlorite').harm).toBe('harm');
    expect(harmTo('PA', 'brief-acid').harm).toBe('harm');
  });
});

describe('advice', () => {
  it('offers something to every matrix, and names what to avoid where there is something', () => {
    for (const matrix of MATRICES) {
      const made = advise({ matrix });
      expect(made.options.length).toBeGreaterThan(0);
      expect(made.avoid.length).toBe(MATRIX_FACTS[matrix].avoid.length);
      for (const option of made.options) expect(option.goNoGo.length).toBeGreaterThan(0);
    }
  });

  it('keeps strong peroxide, Fenton and alkali out of kitchens and schools', () => {
    for (const reagent of ['peroxide', 'fenton']) {
      expect(standing({ setting: 'kitchen' }, reagent)).toBe('not-here');
      expect(standing({ setting: 'school' }, reagent)).toBe('not-here');
      expect(standing({ setting: 'laboratory' }, reagent)).toBe('open');
    }
    expect(standing({ matrix: 'saliva', setting: 'school' }, 'cold-alkali')).toBe('not-here');
  });

  it('says what is lacking, and which polymer would be deleted', () => {
    const lacking = advise({ equipment: ['thermometer'] }).options.find((o) => o.facts.reagent === 'fenton')!;
    expect(lacking.standing).toBe('needs-equipment');
    expect(lacking.because).toContain('ice bath');
    expect(standing({ matrix: 'saliva', polymers: ['PLA'] }, 'cold-alkali')).toBe('harms');
    expect(standing({ matrix: 'saliva', polymers: ['PE'] }, 'cold-alkali')).toBe('open');
  });

  it('reckons the volume for a mass, and leaves it to the label where it should', () => {
    const options = advise({ massG: 2.5 }).options;
    expect(options.find((o) => o.facts.reagent === 'peroxide')!.volumeMl).toBe(50);
    expect(options.find((o) => o.facts.reagent === 'cellulase')!.volumeMl).toBeNull();
  });

  it('refuses a mass that fits in no vessel', () => {
    const made = adviseDigestion({
      matrix: 'plant',
      polymers: [],
      setting: 'laboratory',
      equipment: [],
      massG: 5000,
    });
    expect(made.ok ? null : made.refusal.why).toBe('out-of-range');
  });

  it('never lets a digestion above 50 °C', () => {
    for (const matrix of MATRICES)
      for (const { facts } of advise({ matrix }).options) expect(facts.ceilingC ?? 0).toBeLessThanOrEqual(50);
  });
});

describe('a coupon', () => {
  const pair = {
    pieces: [10, 10],
    massMg: [50, 50.2],
    areaMm2: [40, 40.5],
    balanceMg: 0.1,
    looksChanged: false,
  } as const;
  it.each([
    [{}, 'unharmed'],
    [{ pieces: [10, 9] }, 'harmed'],
    [{ massMg: [50, 46] }, 'harmed'],
    [{ areaMm2: [40, 36] }, 'harmed'],
    [{ looksChanged: true }, 'harmed'],
    [{ massMg: [5, 4], areaMm2: null }, 'cannot-say'],
    [{ massMg: null, areaMm2: null }, 'cannot-say'],
    [{ massMg: null }, 'unharmed'],
  ] as const)('%j is %s', (given, verdict) => {
    expect(judgeCoupon({ ...pair, ...given }).verdict).toBe(verdict);
  });
});
