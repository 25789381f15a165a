/** A kind of step, declared: what it asks, what it can touch, what it makes. A new kind is one declaration and one line of the list. */
export interface StepQuantity {
  /** Carries its unit: volume_ml, mass_g, temperature_c, minutes. */
  readonly name: string;
  readonly label: string;
  readonly least: number;
  readonly most: number;
  /** How much two steps may differ and still be the same, as a share of the larger; stated so that it can be edited. */
  readonly tolerance: number;
  /** A background that grows with this quantity can be scaled (twice the reagent, twice its particles). */
  readonly scales: boolean;
}

export type Touched =
  | 'vessel'
  | 'tool'
  | 'liquid'
  | 'reagentLot'
  | 'place'
  | 'person'
  | 'filterLot'
  | 'optics';

/** Where stray particles come from; coverage names the ones that a missing control leaves alive. */
export const CAUSES = [
  'product',
  'act',
  'matrix',
  'person',
  'liquid',
  'air',
  'vessel',
  'tool',
  'reagent',
  'filter',
  'photograph',
  'scorer',
] as const;
export type Cause = (typeof CAUSES)[number];

/** Fractions that a step can make. */
export const MAKES = ['passed', 'remainder', 'sediment', 'float', 'rinse'] as const;

export interface StepKind {
  readonly kind: string;
  /** Imperative, for the bench: "Rinse". */
  readonly says: string;
  readonly quantities: readonly StepQuantity[];
  readonly touches: readonly Touched[];
  /** Which causes this step can bring in. */
  readonly brings: readonly Cause[];
  /** Fractions it makes. */
  readonly makes: readonly (typeof MAKES)[number][];
}

/** A kind that the program knows; of a laboratory's own kind only the fractions tell whether pieces are lost in it. */
export interface KnownStepKind extends StepKind {
  /** Pieces stick, clump or dissolve here, though no fraction is made. */
  readonly loses?: boolean;
}

const quantity = (
  name: string,
  label: string,
  least: number,
  most: number,
  tolerance: number,
  scales: boolean,
): StepQuantity => ({ name, label, least, most, tolerance, scales });

// Tolerances: common practice, no source.
export const volumeMl = quantity('volume_ml', 'volume', 0.01, 100_000, 0.1, true);
export const massG = quantity('mass_g', 'mass', 0.0001, 100_000, 0.1, true);
export const minutes = quantity('minutes', 'time', 0, 100_000, 0.2, false);
export const temperatureC = quantity('temperature_c', 'temperature', -30, 140, 0.1, false);
export const times = quantity('times', 'how many times', 1, 10_000, 0, true);
export const poreUm = quantity('pore_um', 'pore', 0.01, 5000, 0, false);
