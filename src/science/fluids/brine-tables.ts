import type { Seen } from './materials.ts';

/** One row: share of the dry salt by mass in %, density at 20 °C in kg/m³, viscosity at 20 °C in mPa·s (null: not known). */
export type BrineRow = readonly [massPercent: number, densityKgM3: number, viscosityMPaS: number | null];

/** As bought with crystal water: grams of the bought salt that hold one gram of the dry one. */
export interface Hydrate {
  readonly name: string;
  readonly perDryGram: number;
}

export interface BrineTable {
  readonly salt: string;
  readonly formula: string;
  readonly rows: readonly BrineRow[];
  /** Share by mass at which no more dissolves near 20 °C, %. From memory, unverified, but for sugar. */
  readonly saturatedPercent: number;
  readonly hydrates: readonly Hydrate[];
  /** How far the printed densities can be trusted, kg/m³: between two printed tables or table and model. */
  readonly toleranceKgM3: number;
  readonly seen: Seen;
  readonly source: string;
  /** What it does to people, pieces and drains; safety data sheets come first. */
  readonly cautions: readonly string[];
  /** For a kitchen or school as well. */
  readonly gentle: boolean;
}

const LALIBERTE =
  'viscosity: Laliberté 2007, J. Chem. Eng. Data 52:321, recomputed with an open property library';

/**
 * Flotation liquids at 20 °C. Molar masses of the hydrates from standard atomic masses.
 * The loader `loadBrines` holds every table against its neighbours before it is used.
 */
export const BRINE_TABLES: readonly BrineTable[] = [
  {
    salt: 'table salt',
    formula: 'NaCl',
    rows: [
      [2, 1012.2, 1.03],
      [4, 1026.8, 1.062],
      [8, 1055.9, 1.142],
      [10, 1070.7, 1.191],
      [12, 1085.7, 1.246],
      [16, 1116.2, 1.381],
      [20, 1147.8, 1.561],
      [24, 1180.4, 1.808],
      [26, 1197.2, 1.966],
    ],
    saturatedPercent: 26.4,
    hydrates: [],
    toleranceKgM3: 2,
    seen: 'read',
    source: `density: Poradnik fizykochemiczny, WNT 1974, as on a page of Toruń University; ${LALIBERTE}`,
    cautions: ['Use salt without anti-caking agent, or filter the brine: both bring particles.'],
    gentle: true,
  },
  {
    salt: 'sugar',
    formula: 'C₁₂H₂₂O₁₁',
    rows: [
      [10, 1038.1, 1.336],
      [20, 1081, 1.945],
      [30, 1127, 3.187],
      [40, 1176.5, 6.162],
      [50, 1229.5, 15.431],
      [60, 1286.4, 58.487],
    ],
    saturatedPercent: 67.09,
    hydrates: [],
    toleranceKgM3: 2,
    seen: 'memory',
    source: 'CRC Handbook, from memory, unverified; saturation: Mohos 2010, Tables A2.2–A2.3',
    cautions: ['Thick: small pieces need days. It grows mould; use it fresh and rinse pieces well.'],
    gentle: true,
  },
  {
    salt: 'calcium chloride',
    formula: 'CaCl₂',
    rows: [
      [5, 1040.1, 1.094],
      [10, 1083.5, 1.368],
      [20, 1177.5, 1.93],
      [30, 1281.6, 3.471],
      [40, 1395.7, 8.885],
    ],
    saturatedPercent: 43,
    hydrates: [{ name: 'dihydrate CaCl₂·2H₂O', perDryGram: 147.01 / 110.98 }],
    toleranceKgM3: 3,
    seen: 'read',
    source: `density: CRC-derived table of the Engineering ToolBox; ${LALIBERTE}`,
    cautions: [
      'It heats the water strongly while it dissolves: add it in portions to cold water, with goggles.',
      'Irritates eyes and skin. With soaps and fats it makes waxy flakes that look like plastic.',
    ],
    gentle: true,
  },
  {
    salt: 'magnesium chloride',
    formula: 'MgCl₂',
    rows: [
      [10, 1082.6, 1.564],
      [20, 1174.2, 2.878],
      [30, 1276.3, 7.135],
    ],
    saturatedPercent: 35,
    hydrates: [{ name: 'hexahydrate MgCl₂·6H₂O', perDryGram: 203.3 / 95.21 }],
    toleranceKgM3: 3,
    seen: 'read',
    source: `density: CRC-derived table of the Engineering ToolBox; ${LALIBERTE}`,
    cautions: ['With soaps and fats it makes waxy flakes that look like plastic.'],
    gentle: true,
  },
  {
    salt: 'potassium carbonate',
    formula: 'K₂CO₃',
    rows: [
      [10, 1088.3, 1.324],
      [20, 1184.8, 1.78],
      [30, 1292, 2.615],
      [40, 1414.2, 4.802],
      [50, 1556.7, 10.536],
    ],
    saturatedPercent: 52,
    hydrates: [],
    toleranceKgM3: 5,
    seen: 'recomputed',
    source: `density: Laliberté & Cooper 2004, J. Chem. Eng. Data 49:1141, recomputed; ${LALIBERTE}`,
    cautions: [
      'Strongly alkaline: goggles and gloves; never with acids (it foams) or on aluminium.',
      'Alkali attacks polyester, polylactide and cellulose acetate when left for long (from memory, unverified).',
    ],
    gentle: false,
  },
  {
    salt: 'sodium iodide',
    formula: 'NaI',
    rows: [
      [10, 1080.5, 0.996],
      [20, 1176.6, 1.033],
      [30, 1290.2, 1.11],
      [40, 1426.9, 1.282],
      [50, 1594.4, 1.72],
      [60, 1804.8, 2.889],
      [64, 1904.8, 3.842],
    ],
    saturatedPercent: 64,
    hydrates: [{ name: 'dihydrate NaI·2H₂O', perDryGram: 185.92 / 149.89 }],
    toleranceKgM3: 5,
    seen: 'recomputed',
    source: `density: Laliberté & Cooper 2004, J. Chem. Eng. Data 49:1141, recomputed; ${LALIBERTE}`,
    cautions: [
      'Never with peroxide, hypochlorite or another oxidiser: iodine vapour. Wash peroxide out first.',
      'It stains and blackens cellulose filters; costly, so filter it and use it again.',
    ],
    gentle: false,
  },
  {
    salt: 'caesium chloride',
    formula: 'CsCl',
    rows: [
      [10, 1079.8, null],
      [20, 1175.6, null],
      [30, 1288.5, null],
      [40, 1422.6, null],
      [50, 1584.6, null],
    ],
    saturatedPercent: 64,
    hydrates: [],
    toleranceKgM3: 3,
    seen: 'read',
    source: 'density: CRC-derived table of the Engineering ToolBox; viscosity not at hand',
    cautions: ['Costly; harmful when swallowed.'],
    gentle: false,
  },
  {
    salt: 'zinc chloride',
    formula: 'ZnCl₂',
    rows: [
      [4, 1035, 1.103],
      [8, 1072, 1.213],
      [12, 1109, 1.329],
      [16, 1147, 1.453],
      [20, 1187, 1.586],
      [30, 1292.8, 1.997],
      [40, 1417, 2.707],
      [50, 1568, 4.345],
      [60, 1749, 9.29],
      [70, 1962, 30.385],
    ],
    saturatedPercent: 80,
    hydrates: [],
    toleranceKgM3: 12,
    seen: 'read',
    source: `density: Polish handbook table (naukowiec.org), 30 % from Perry, from memory; the printed 10 % row is a misprint and left out; ${LALIBERTE}`,
    cautions: [
      'Corrosive, and very toxic to water life: not for a home or school. Goggles, gloves, ventilation; collect all of it as chemical waste; filter it and use it again.',
      'It dissolves cellulose filters when concentrated: use glass fibre or steel.',
      'It heats the water while it dissolves, and turns cloudy without a drop of hydrochloric acid; no acid where nylon is in question.',
    ],
    gentle: false,
  },
];
