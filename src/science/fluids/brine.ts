import { celsius, done, type Outcome, refused } from '../../units/index.ts';
import { BRINE_TABLES, type BrineRow, type BrineTable, type Hydrate } from './brine-tables.ts';
import { densityRange, type Material } from './materials.ts';
import type { Liquid } from './water.ts';
import { water } from './water.ts';

/** A printed row may lie this far from the line between its neighbours, as a share of the density. */
const OUT_OF_LINE = 0.004;
/** A recipe is weighed to this share of the salt. Common practice, no source. */
const WEIGHED_TO = 0.01;

export type Brines = ReadonlyMap<string, BrineTable>;

/**
 * Takes in tables of brines, each held against itself: shares and densities must rise, and every row must lie on the line between
 * its neighbours in volume per gram (which mixes nearly evenly) within 0.4 %. The first row that does not is refused with what its
 * neighbours expect: a misprinted figure does not get in.
 */
export function loadBrines(tables: readonly BrineTable[]): Outcome<Brines> {
  const brines = new Map<string, BrineTable>();
  for (const table of tables) {
    const fault = faultOf(table);
    if (fault !== null) return refused(fault);
    brines.set(table.formula, table);
  }
  return done(brines);
}

/** The row that is worst out of line, in words; null where the table is even. */
function faultOf({ salt, rows }: BrineTable): { why: string; message: string } | null {
  for (const [i, row] of rows.entries()) {
    const before = rows[i - 1];
    if (before && (row[0] <= before[0] || row[1] <= before[1])) {
      return {
        why: 'row-not-rising',
        message: `${salt}, ${row[0]} %: share and density must rise from row to row; ${row[1]} kg/m³ follows ${before[1]}.`,
      };
    }
  }
  let worst: { row: BrineRow; expected: number; off: number } | null = null;
  for (let i = 1; i < rows.length - 1; i++) {
    const row = rows[i]!;
    const expected = 1 / lineAt(rows[i - 1]!, rows[i + 1]!, row[0]);
    const off = Math.abs(row[1] / expected - 1);
    if (off > OUT_OF_LINE && (worst === null || off > worst.off)) worst = { row, expected, off };
  }
  return (
    worst && {
      why: 'row-out-of-line',
      message: `${salt}, ${worst.row[0]} %: ${worst.row[1]} kg/m³ does not fit its neighbours, which expect about ${Math.round(worst.expected)}; most likely a misprint. Look at another table before using it.`,
    }
  );
}

/** Volume per mass (m³/kg) on the line between two rows. */
function lineAt(a: BrineRow, b: BrineRow, percent: number): number {
  const share = (percent - a[0]) / (b[0] - a[0]);
  return (1 - share) / a[1] + share / b[1];
}

const loaded = loadBrines(BRINE_TABLES);
if (!loaded.ok) throw new RangeError(`brine tables: ${loaded.refusal.message}`);
export const BRINES: Brines = loaded.value;

/** A table by formula (NaCl or NaCl with small digits), or name, whatever the case. */
export function brineOf(name: string): BrineTable | undefined {
  const plain = (text: string) =>
    text
      .trim()
      .toUpperCase()
      .replace(/[₀-₉]/g, (digit) => String.fromCharCode(digit.charCodeAt(0) - 0x2080 + 48));
  const asked = plain(name);
  const sugar = asked === 'SUCROSE' || asked === 'SUGAR';
  const salt = asked === 'SALT' || asked === 'COOKING SALT' || asked === 'SODIUM CHLORIDE';
  return [...BRINES.values()].find(
    (table) =>
      plain(table.formula) === asked ||
      plain(table.salt) === asked ||
      (sugar && table.salt === 'sugar') ||
      (salt && table.formula === 'NaCl'),
  );
}

const AT_20 = water(celsius(20));
const rowsWithWater = (table: BrineTable): readonly BrineRow[] => [
  [0, AT_20.densityKgM3, AT_20.viscosityMPaS],
  ...table.rows,
];

export const densestPercent = (table: BrineTable): number => table.rows[table.rows.length - 1]![0];
export const densestKgM3 = (table: BrineTable): number => table.rows[table.rows.length - 1]![1];

/**
 * Density and viscosity at 20 °C of a share by mass: volume per gram is taken evenly between two printed rows, the logarithm of
 * viscosity likewise. Throws RangeError beyond the table. `viscosityMPaS` null where no figure is at hand.
 */
export function brineAt(
  table: BrineTable,
  massPercent: number,
): { readonly densityKgM3: number; readonly viscosityMPaS: number | null } {
  const rows = rowsWithWater(table);
  const most = densestPercent(table);
  if (!(massPercent >= 0 && massPercent <= most))
    throw new RangeError(
      `share by mass: from 0 to ${most} % is tabulated for ${table.salt}, given ${massPercent}`,
    );
  const i = Math.max(
    1,
    rows.findIndex((row) => row[0] >= massPercent),
  );
  const [a, b] = [rows[i - 1]!, rows[i]!];
  const share = (massPercent - a[0]) / (b[0] - a[0]);
  return {
    densityKgM3: 1 / lineAt(a, b, massPercent),
    viscosityMPaS:
      a[2] === null || b[2] === null ? null : Math.exp((1 - share) * Math.log(a[2]) + share * Math.log(b[2])),
  };
}

/** Share by mass (%) of a density at 20 °C; null where the table does not reach it. */
export function percentFor(table: BrineTable, densityKgM3: number): number | null {
  const rows = rowsWithWater(table);
  const i = rows.findIndex((row) => row[1] >= densityKgM3);
  if (i < 0 || densityKgM3 < rows[0]![1]) return null;
  if (i === 0) return 0;
  const [a, b] = [rows[i - 1]!, rows[i]!];
  const share = (1 / densityKgM3 - 1 / a[1]) / (1 / b[1] - 1 / a[1]);
  return a[0] + share * (b[0] - a[0]);
}

export interface BrineRecipe {
  readonly table: BrineTable;
  readonly massPercent: number;
  readonly densityKgM3: number;
  /** How far off the density may be: the table's tolerance and 1 % in the weighing together. */
  readonly toleranceKgM3: number;
  readonly viscosityMPaS: number | null;
  readonly volumeMl: number;
  readonly saltG: number;
  readonly waterG: number;
  /** The same with a salt that holds crystal water. */
  readonly hydrates: readonly {
    readonly hydrate: Hydrate;
    readonly saltG: number;
    readonly waterG: number;
  }[];
  readonly nearSaturation: boolean;
}

/** How much salt and water make a volume of brine. Formula: m = ρ·V; salt = w·m; water = m − salt. Throws RangeError as `brineAt`. */
export function brineRecipe(table: BrineTable, massPercent: number, volumeMl: number): BrineRecipe {
  if (!(volumeMl > 0 && volumeMl < Infinity))
    throw new RangeError(`volume in mL: a number above 0 is needed, given ${volumeMl}`);
  const { densityKgM3, viscosityMPaS } = brineAt(table, massPercent);
  const mass = (densityKgM3 * volumeMl) / 1000;
  const saltG = (mass * massPercent) / 100;
  const slope =
    (brineAt(table, Math.min(massPercent + 0.1, densestPercent(table))).densityKgM3 -
      brineAt(table, Math.max(0, massPercent - 0.1)).densityKgM3) /
    (Math.min(massPercent + 0.1, densestPercent(table)) - Math.max(0, massPercent - 0.1));
  const weighing = slope * massPercent * (1 - massPercent / 100) * WEIGHED_TO;
  return {
    table,
    massPercent,
    densityKgM3,
    toleranceKgM3: Math.hypot(table.toleranceKgM3, weighing),
    viscosityMPaS,
    volumeMl,
    saltG,
    waterG: mass - saltG,
    hydrates: table.hydrates.map((hydrate) => ({
      hydrate,
      saltG: saltG * hydrate.perDryGram,
      waterG: mass - saltG * hydrate.perDryGram,
    })),
    nearSaturation: massPercent > 0.95 * table.saturatedPercent,
  };
}

export type Buoyancy = 'floats' | 'sinks' | 'undecided';

/**
 * Whether a material floats: only where all its printed densities lie on one side of the liquid's, its tolerance included.
 * Deceives when: pieces are filled, foamed, fouled or carry air bubbles.
 */
export function buoyancy(material: Material, densityKgM3: number, toleranceKgM3: number): Buoyancy {
  const [low, high] = densityRange(material);
  if (high < densityKgM3 - toleranceKgM3) return 'floats';
  return low > densityKgM3 + toleranceKgM3 ? 'sinks' : 'undecided';
}

/** The liquid of a recipe for settling; null where its viscosity is not known. */
export const liquidOf = (at: {
  readonly densityKgM3: number;
  readonly viscosityMPaS: number | null;
}): Liquid | null =>
  at.viscosityMPaS === null ? null : { densityKgM3: at.densityKgM3, viscosityMPaS: at.viscosityMPaS };
