import type { CategoryDesign } from './by-category.ts';
import type { CountingInput } from './counting-input.ts';
import { sharesOf } from './melded-net.ts';

const effortOf = (run: { passed: number; examined: number }): number => run.passed * run.examined;
const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);

/** Extents and shares of a study's counts, for nets of parts of them (categories, size bands). */
export const categoryDesign = (input: CountingInput): CategoryDesign => ({
  gramEffort: sum(input.portions.map((p) => effortOf(p) * p.massG)),
  specimenEffort: sum(input.portions.map(effortOf)),
  controlEffort: sum(input.controls.map(effortOf)),
  confidence: input.confidence,
  shares: sharesOf(input),
});
