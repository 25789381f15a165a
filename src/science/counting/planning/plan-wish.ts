import type { Layout, Truth } from './virtual-study.ts';

/** What a person expects, and what the work costs in hours. */
export interface PlanWish {
  readonly truth: Truth;
  readonly massG: number;
  /** passed × examined, alike on both sides. */
  readonly fraction: number;
  readonly hours: {
    readonly specimen: number;
    readonly control: number;
    readonly spike: number;
    readonly available: number;
  };
  readonly addedPerSpike: number;
  readonly confidence: number;
  /** Testing a random part of the kept pieces: hours for one, and the share of them expected to be true. Absent: no piece is tested. */
  readonly confirming?: { readonly hoursPerPiece: number; readonly trueShare: number };
  readonly seed?: number;
}

/** How many runs of each kind, and how many pieces are tested. */
export interface Design {
  readonly specimens: number;
  readonly controls: number;
  readonly spikes: number;
  /** Pieces tested on each side; 0: none. */
  readonly tested: number;
}

export const layoutOf = (wish: PlanWish, design: Omit<Design, 'tested'>): Layout => ({
  specimens: design.specimens,
  controls: design.controls,
  spikes: design.spikes,
  massG: wish.massG,
  specimenFraction: wish.fraction,
  controlFraction: wish.fraction,
  addedPerSpike: wish.addedPerSpike,
});

export const hoursOf = ({ hours, confirming }: PlanWish, design: Design): number =>
  design.specimens * hours.specimen +
  design.controls * hours.control +
  design.spikes * hours.spike +
  2 * design.tested * (confirming?.hoursPerPiece ?? 0);

/** Seed of virtual study i: designs and releases are compared on common chance. */
export const seedOf = (wish: PlanWish, i: number): number => (wish.seed ?? 1) * 100_003 + i;
/** One-sided level of the decision; the dust keeps p = 1/20 at 5 %. */
export const alphaOf = (wish: PlanWish): number => 1 - wish.confidence + 1e-12;
