/** How a value was seen: its table read, recomputed, or from memory and not verified. */
export type Seen = 'read' | 'recomputed' | 'memory';

/** A material that may be on the filter, with the range of densities that is printed for it. */
export interface Material {
  readonly code: string;
  readonly name: string;
  /** g/mL, lowest and highest printed for the solid without filler or voids. */
  readonly density: readonly [low: number, high: number];
  readonly seen: Seen;
  readonly plastic: boolean;
}

const m = (code: string, name: string, low: number, high: number, seen: Seen, plastic = true): Material => ({
  code,
  name,
  density: [low, high],
  seen,
  plastic,
});

/**
 * Densities at room temperature, g/mL. Sources of the rows that were read: Encyclopædia Britannica, table of commercially important
 * plastics; ACS Omega 2022, 7:13403, Table 1; a polymer table for PA 6 and PDMS. The others are from memory, unverified.
 * Deceives when: the piece is filled (chalk, glass, pigment), foamed or holds air.
 */
export const MATERIALS: readonly Material[] = [
  m('PP', 'polypropylene', 0.9, 0.91, 'read'),
  m('PE-LD', 'polyethylene, low density', 0.914, 0.94, 'read'),
  m('PE-HD', 'polyethylene, high density', 0.95, 0.97, 'read'),
  m('EVA', 'ethylene–vinyl acetate', 0.93, 0.95, 'memory'),
  m('PIB', 'polyisobutylene', 0.91, 0.92, 'memory'),
  m('NR', 'natural rubber', 0.91, 0.93, 'memory'),
  m('SBR', 'styrene–butadiene rubber', 0.93, 0.95, 'memory'),
  m('PDMS', 'silicone', 0.97, 0.97, 'read'),
  m('PS', 'polystyrene', 1.04, 1.05, 'read'),
  m('ABS', 'acrylonitrile–butadiene–styrene', 1.0, 1.1, 'read'),
  m('PA', 'nylon', 1.12, 1.15, 'read'),
  m('PU', 'polyurethane, thermoplastic', 1.05, 1.25, 'memory'),
  m('PMMA', 'acrylic glass', 1.17, 1.2, 'read'),
  m('PC', 'polycarbonate', 1.2, 1.2, 'read'),
  m('PVAC', 'poly(vinyl acetate)', 1.19, 1.19, 'memory'),
  m('PLA', 'polylactide', 1.24, 1.27, 'memory'),
  m('CA', 'cellulose acetate', 1.28, 1.31, 'memory'),
  m('PET', 'polyester', 1.29, 1.4, 'read'),
  m('POM', 'polyoxymethylene', 1.4, 1.4, 'read'),
  m('PVC', 'poly(vinyl chloride), rigid', 1.3, 1.6, 'read'),
  m('PTFE', 'polytetrafluoroethylene', 2.14, 2.2, 'memory'),
  m('cellulose', 'cotton, viscose', 1.44, 1.54, 'memory', false),
  m('wool', 'wool, hair, silk', 1.25, 1.34, 'memory', false),
  m('quartz', 'sand, glass', 2.5, 2.65, 'memory', false),
  m('chalk', 'calcium carbonate', 2.71, 2.71, 'memory', false),
];

/**
 * Densities to reckon with, kg/m³: the printed range; a single printed figure of two decimals may be off by half of its last one.
 */
export function densityRange({ density: [low, high] }: Material): readonly [number, number] {
  const rounding = low === high ? 5 : 0;
  return [low * 1000 - rounding, high * 1000 + rounding];
}

const OTHER_NAMES: Readonly<Record<string, string>> = {
  PE: 'PE-LD',
  LDPE: 'PE-LD',
  HDPE: 'PE-HD',
  NYLON: 'PA',
  PA6: 'PA',
  PA66: 'PA',
  POLYESTER: 'PET',
  TPU: 'PU',
  SILICONE: 'PDMS',
  COTTON: 'CELLULOSE',
  VISCOSE: 'CELLULOSE',
  SAND: 'QUARTZ',
  GLASS: 'QUARTZ',
};

/** A material by code, other name or full name, whatever the case. Undefined where it is not in the table. */
export function materialOf(name: string): Material | undefined {
  const asked = name.trim().toUpperCase();
  const code = OTHER_NAMES[asked] ?? asked;
  return MATERIALS.find((one) => one.code.toUpperCase() === code || one.name.toUpperCase() === asked);
}
