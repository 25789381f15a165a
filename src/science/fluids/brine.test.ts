import { describe, expect, it } from 'vitest';
import {
  BRINE_TABLES,
  BRINES,
  type BrineTable,
  brineAt,
  brineOf,
  brineRecipe,
  buoyancy,
  loadBrines,
  MATERIALS,
  materialOf,
  percentFor,
} from './index.ts';

const table = (formula: string): BrineTable => brineOf(formula)!;

describe('brine densities at 20 °C', () => {
  // Rows of the printed tables that are not in ours, or lie between ours: interpolation must meet them.
  it.each([
    ['NaCl', 6, 1041.3, 2],
    ['NaCl', 14, 1100.9, 2],
    ['NaCl', 18, 1131.9, 2],
    ['NaCl', 22, 1164.0, 2],
    ['NaCl', 26, 1197.2, 2],
    ['CaCl2', 1, 1006.5, 3],
    ['CaCl2', 40, 1395.7, 3],
    ['MgCl2', 20, 1174.2, 3],
    ['CsCl', 50, 1584.6, 3],
    ['ZnCl2', 70, 1962, 12],
    ['sugar', 60, 1286.4, 2],
  ])('%s %d %%: %d kg/m³', (formula, percent, printed, tolerance) => {
    expect(Math.abs(brineAt(table(formula), percent).densityKgM3 - printed)).toBeLessThan(tolerance);
  });

  // Laliberté & Cooper 2004, recomputed with an open property library (mean deviation of the model 1.4 kg/m³).
  it.each([
    ['NaCl', 20, 1148.1, 2],
    ['NaCl', 15, 1108.8, 2],
    ['CaCl2', 20, 1177.8, 3],
    ['CaCl2', 35, 1336.9, 4],
    ['ZnCl2', 10, 1090.4, 3],
    ['ZnCl2', 30, 1290.8, 3],
    ['ZnCl2', 60, 1734.2, 15],
    ['NaI', 35, 1355.2, 3],
    ['NaI', 62, 1853, 5],
    ['K2CO3', 45, 1482.5, 4],
  ])('%s %d %% by the model: %d kg/m³', (formula, percent, model, tolerance) => {
    expect(Math.abs(brineAt(table(formula), percent).densityKgM3 - model)).toBeLessThan(tolerance);
  });

  it.each([
    ['NaCl', 26, 1.97],
    ['CaCl2', 40, 8.9],
    ['ZnCl2', 60, 9.3],
    ['ZnCl2', 70, 30],
    ['NaI', 60, 2.9],
  ])('%s %d %%: viscosity %d mPa·s', (formula, percent, mPaS) => {
    expect(Math.abs(brineAt(table(formula), percent).viscosityMPaS! / mPaS - 1)).toBeLessThan(0.02);
  });

  it('says not known where no viscosity is at hand', () => {
    expect(brineAt(table('CsCl'), 30).viscosityMPaS).toBeNull();
  });

  it('finds the share of a density, and none beyond the table', () => {
    for (const one of BRINES.values()) {
      const percent = 0.6 * one.rows[one.rows.length - 1]![0];
      expect(percentFor(one, brineAt(one, percent).densityKgM3)).toBeCloseTo(percent, 9);
    }
    expect(percentFor(table('NaCl'), 1250)).toBeNull();
    expect(percentFor(table('NaCl'), 990)).toBeNull();
    expect(() => brineAt(table('NaCl'), 30)).toThrow(RangeError);
  });
});

describe('the loader', () => {
  const zinc = table('ZnCl2');

  it('takes the tables of the house', () => {
    expect(loadBrines(BRINE_TABLES).ok).toBe(true);
  });

  it('catches the misprinted row of a widely copied table: zinc chloride 10 %, 1.081 for about 1.090', () => {
    const printed: BrineTable = {
      ...zinc,
      rows: [
        [4, 1035, null],
        [8, 1072, null],
        [10, 1081, null],
        [12, 1109, null],
        [16, 1147, null],
        [20, 1187, null],
      ],
    };
    const made = loadBrines([printed]);
    expect(made.ok ? null : made.refusal.why).toBe('row-out-of-line');
    expect(made.ok ? '' : made.refusal.message).toMatch(/^zinc chloride, 10 %: 1081 kg\/m³ .* about 1090/);
  });

  it.each([
    [
      'a row that falls',
      [
        [10, 1080, null],
        [20, 1070, null],
      ],
    ],
    [
      'the same share twice',
      [
        [10, 1080, null],
        [10, 1081, null],
      ],
    ],
  ] as const)('refuses %s', (_what, rows) => {
    const made = loadBrines([{ ...zinc, rows }]);
    expect(made.ok ? null : made.refusal.why).toBe('row-not-rising');
  });
});

describe('recipes by mass', () => {
  it('one litre of 20 % table salt: 229.6 g and 918.2 g of water, ρ·V altogether', () => {
    const made = brineRecipe(table('NaCl'), 20, 1000);
    expect(made.saltG).toBeCloseTo(0.2 * 1147.8, 6);
    expect(made.saltG + made.waterG).toBeCloseTo(1147.8, 6);
  });

  it('6 g of salt to 20 mL of water is about 23 % and 1.17 g/mL (NOAA’s step, recomputed)', () => {
    const percent = (100 * 6) / (6 + 20 * 0.9982);
    expect(percent).toBeCloseTo(23.1, 1);
    expect(brineAt(table('NaCl'), percent).densityKgM3 / 1000).toBeCloseTo(1.17, 2);
  });

  it('counts crystal water: 147.01 g of the dihydrate hold 110.98 g of calcium chloride', () => {
    const made = brineRecipe(table('CaCl2'), 40, 500);
    expect(made.hydrates[0]!.saltG / made.saltG).toBeCloseTo(1.3247, 4);
    expect(made.hydrates[0]!.saltG + made.hydrates[0]!.waterG).toBeCloseTo(made.saltG + made.waterG, 9);
  });
});

describe('what floats', () => {
  const in_ = (kgM3: number, code: string) => buoyancy(materialOf(code)!, kgM3, 3);

  it('in water: polyolefins and rubbers, nothing else', () => {
    const floats = MATERIALS.filter((one) => buoyancy(one, 998.2, 1) === 'floats').map((one) => one.code);
    expect(floats).toEqual(['PP', 'PE-LD', 'PE-HD', 'EVA', 'PIB', 'NR', 'SBR', 'PDMS']);
  });

  it('in 1.20 brine: PS, PA and ABS float, PC and PMMA are undecided, PET and PVC sink', () => {
    for (const code of ['PS', 'PA', 'ABS']) expect(in_(1200, code)).toBe('floats');
    for (const code of ['PC', 'PMMA']) expect(in_(1200, code)).toBe('undecided');
    for (const code of ['PET', 'PVC', 'PTFE']) expect(in_(1200, code)).toBe('sinks');
  });

  it('in 1.6: PET floats, some PVC is undecided, PTFE sinks', () => {
    expect(in_(1600, 'PET')).toBe('floats');
    expect(in_(1600, 'PVC')).toBe('undecided');
    expect(in_(1600, 'PTFE')).toBe('sinks');
  });

  it('knows a salt by formula or name', () => {
    expect(brineOf('zncl2')?.salt).toBe('zinc chloride');
    expect(brineOf('Sugar')?.formula).toBe('C₁₂H₂₂O₁₁');
    expect(brineOf('salt')?.formula).toBe('NaCl');
    expect(brineOf('unicorn')).toBeUndefined();
  });
});
