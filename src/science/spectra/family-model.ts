import { solvePositive } from './cholesky.ts';
import { standardise } from './representation.ts';

/** References as numbers: their representations and the family of each. */
export interface ReferenceRows {
  /** One representation after another. */
  readonly rows: readonly Float64Array[];
  /** Index of the family of each row. */
  readonly family: readonly number[];
  readonly families: number;
  /** Grid points of one view. */
  readonly points: number;
}

/**
 * What the families of a reference set have in common and what sets them apart: kernel ridge regression on the mean
 * correlation of the views, one column a family, families weighing alike however many references they have.
 */
export interface FamilyModel {
  readonly rows: readonly Float64Array[];
  readonly family: readonly number[];
  readonly families: number;
  readonly views: number;
  /** Coefficients, row by row of references, one column a family. */
  readonly weights: Float64Array;
  /** Score of every reference for every family had this one reference not been there. */
  readonly withoutItself: Float64Array;
  /** Score of every reference for every family had its own family not been there (its own column is not a number used). */
  readonly withoutOwn: Float64Array;
  /** Mean correlation of every pair of references. */
  readonly likeness: Float64Array;
}

/** Fits the model over the grid points that count. Ridge λ in units of a reference's own likeness (1). */
export function fitFamilies(references: ReferenceRows, counts: Uint8Array, ridge: number): FamilyModel {
  const n = references.rows.length;
  const views = references.rows[0]!.length / references.points;
  const rows = references.rows.map((row) => {
    const own = Float64Array.from(row);
    standardise(own, counts);
    return own;
  });
  const likeness = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const r = product(rows[i]!, rows[j]!) / views;
      likeness[i * n + j] = r;
      likeness[j * n + i] = r;
    }
  }
  return solved({ rows, family: references.family, families: references.families, views, likeness }, ridge);
}

/** The model fitted again over some of its rows, in their order. */
export function fitAgain(model: FamilyModel, kept: readonly number[], ridge: number): FamilyModel {
  const n = model.rows.length;
  const likeness = new Float64Array(kept.length ** 2);
  for (const [p, i] of kept.entries()) {
    for (const [q, j] of kept.entries()) likeness[p * kept.length + q] = model.likeness[i * n + j]!;
  }
  const rows = kept.map((i) => model.rows[i]!);
  const family = kept.map((i) => model.family[i]!);
  return solved({ rows, family, families: model.families, views: model.views, likeness }, ridge);
}

/**
 * Solves the ridge system. The scores of references that are left out come from the inverse by blocks: for a block b left
 * out, prediction = y_b − (G_bb)⁻¹ (G y)_b with G = (K + λ W⁻¹)⁻¹, which is exact for fixed weights.
 * Source: leave-block-out identity of ridge regression, e.g. Hastie, Tibshirani & Friedman 2009, §7.10 (for one row).
 */
function solved(
  known: Pick<FamilyModel, 'rows' | 'family' | 'families' | 'views' | 'likeness'>,
  ridge: number,
): FamilyModel {
  const n = known.rows.length;
  const m = known.families;
  const sizes = new Float64Array(m);
  for (const f of known.family) sizes[f]!++;
  const present = sizes.reduce((sum, s) => sum + (s > 0 ? 1 : 0), 0);
  const target = new Float64Array(n * m);
  const system = Float64Array.from(known.likeness);
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const own = known.family[i]!;
    // A family of s references weighs as one of the mean size.
    system[i * n + i]! += ridge * ((sizes[own]! * present) / n) + 1e-9;
    inverse[i * n + i] = 1;
    for (let f = 0; f < m; f++) target[i * m + f] = (f === own ? 1 : 0) - 1 / present;
  }
  solvePositive(system, n, inverse, n);
  const weights = new Float64Array(n * m);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const g = inverse[i * n + j]!;
      for (let f = 0; f < m; f++) weights[i * m + f]! += g * target[j * m + f]!;
    }
  }
  const withoutItself = target.map((y, k) => {
    const i = Math.floor(k / m);
    return y - weights[k]! / inverse[i * n + i]!;
  });
  const withoutOwn = new Float64Array(n * m);
  for (let f = 0; f < m; f++) {
    const block = known.family.flatMap((own, i) => (own === f ? [i] : []));
    const b = block.length;
    if (b === 0) continue;
    const part = new Float64Array(b * b);
    const right = new Float64Array(b * m);
    for (const [p, i] of block.entries()) {
      for (const [q, j] of block.entries()) part[p * b + q] = inverse[i * n + j]!;
      for (let c = 0; c < m; c++) right[p * m + c] = weights[i * m + c]!;
    }
    solvePositive(part, b, right, m);
    for (const [p, i] of block.entries()) {
      for (let c = 0; c < m; c++) withoutOwn[i * m + c] = target[i * m + c]! - right[p * m + c]!;
    }
  }
  return { ...known, weights, withoutItself, withoutOwn };
}

/** A spectrum against the model. */
export interface Scored {
  /** Score of each family; the highest is the most like. */
  readonly score: Float64Array;
  /** Mean correlation with each reference, −1 … 1. */
  readonly likeness: Float64Array;
}

/** Scores a representation (standardised over the same points as the model). */
export function scoreFamilies(model: FamilyModel, query: Float64Array): Scored {
  const likeness = Float64Array.from(model.rows, (row) => product(row, query) / model.views);
  const score = new Float64Array(model.families);
  for (const [i, r] of likeness.entries()) {
    for (let f = 0; f < score.length; f++) score[f]! += r * model.weights[i * score.length + f]!;
  }
  return { score, likeness };
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
