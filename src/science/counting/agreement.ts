import { normalUpperQuantile } from '../maths/index.ts';
import type { Interval } from './interval.ts';

export interface Agreement {
  /** Share of things put in the same class. */
  readonly observed: number;
  /** Share expected to agree by chance. */
  readonly expected: number;
  /** (observed − expected)/(1 − expected). */
  readonly value: number;
  readonly standardError: number;
}

interface Table {
  readonly n: number;
  readonly share: readonly (readonly number[])[];
  readonly rows: readonly number[];
  readonly columns: readonly number[];
  readonly observed: number;
}

/** `counts[i][j]`: things that the first reader put in class i and the second in class j. */
function tableOf(counts: readonly (readonly number[])[]): Table {
  const size = counts.length;
  if (
    size < 2 ||
    counts.some((row) => row.length !== size || row.some((x) => !(x >= 0 && Number.isFinite(x))))
  ) {
    throw new RangeError(
      `agreement: a square table of at least 2 × 2 counts from 0 is needed, given ${size} rows`,
    );
  }
  const n = counts.flat().reduce((sum, x) => sum + x, 0);
  if (n === 0) throw new RangeError('agreement: at least one thing read by both is needed, given none');
  const share = counts.map((row) => row.map((x) => x / n));
  const rows = share.map((row) => row.reduce((sum, x) => sum + x, 0));
  const columns = rows.map((_, j) => share.reduce((sum, row) => sum + row[j]!, 0));
  return { n, share, rows, columns, observed: share.reduce((sum, row, i) => sum + row[i]!, 0) };
}

function ofChance(observed: number, expected: number): number {
  // both put everything in one class: they agree wholly, and chance would too
  if (expected >= 1)
    throw new RangeError('agreement: kappa needs things in at least two classes, given one class only');
  return (observed - expected) / (1 - expected);
}

/**
 * Standard error of (po − pe)/(1 − pe) by the delta method: the spread of each thing's pull on the value, where
 * `pull(i, j)` is the derivative of pe in the direction of a thing in cell i, j.
 */
function deltaError(
  table: Table,
  value: number,
  expected: number,
  pull: (i: number, j: number) => number,
): number {
  let mean = 0;
  let square = 0;
  table.share.forEach((row, i) => {
    row.forEach((p, j) => {
      const u = ((i === j ? 1 : 0) - (1 - value) * pull(i, j)) / (1 - expected);
      mean += p * u;
      square += p * u * u;
    });
  });
  return Math.sqrt(Math.max(0, square - mean * mean) / table.n);
}

/**
 * Cohen's kappa of two readers: agreement beyond what their own class shares would give by chance. Standard error: large
 * sample, delta method (the formula of Fleiss, Cohen & Everitt 1969, Psychol. Bull. 72:323).
 * Source: Cohen 1960, Educ. Psychol. Meas. 20:37–46.
 * Holds for: the same things read by both, independently.
 * Deceives when: one class is rare: kappa is then low although readers agree (look at `agreementWhenRare` beside it).
 * Example: rows 88 14 18 / 10 40 10 / 2 6 12 → 0.492.
 */
export function cohenKappa(counts: readonly (readonly number[])[]): Agreement & {
  readonly simpleError: number;
  readonly nullError: number;
  readonly simpleNullError: number;
} {
  const table = tableOf(counts);
  const { n, rows, columns, observed } = table;
  const expected = rows.reduce((sum, r, i) => sum + r * columns[i]!, 0);
  const value = ofChance(observed, expected);
  const both = rows.reduce((sum, r, i) => sum + r * columns[i]! * (r + columns[i]!), 0);
  return {
    observed,
    expected,
    value,
    // a thing in cell (i, j) adds to row i and column j: d pe = column_i + row_j
    standardError: deltaError(table, value, expected, (i, j) => columns[i]! + rows[j]!),
    simpleError: Math.sqrt((observed * (1 - observed)) / n) / (1 - expected),
    nullError: Math.sqrt((expected + expected * expected - both) / n) / (1 - expected),
    simpleNullError: Math.sqrt(expected / (n * (1 - expected))),
  };
}

/**
 * Agreement of two readers by a coefficient that keeps its sense when one class is rare (AC1): chance agreement is
 * Σ π(1 − π)/(q − 1) with the mean class shares π of both readers and q classes. Standard error: delta method.
 * Source: Gwet 2008, Br. J. Math. Stat. Psychol. 61:29–48.
 * Holds for: two classes and more; finite even when all things fall in one class.
 * Deceives when: compared with verbal bands made for kappa.
 */
export function agreementWhenRare(counts: readonly (readonly number[])[]): Agreement {
  const table = tableOf(counts);
  const classes = table.rows.length;
  const shares = table.rows.map((r, i) => (r + table.columns[i]!) / 2);
  const expected = shares.reduce((sum, p) => sum + p * (1 - p), 0) / (classes - 1);
  const value = ofChance(table.observed, expected);
  const slope = (i: number): number => (1 - 2 * shares[i]!) / (classes - 1);
  return {
    observed: table.observed,
    expected,
    value,
    standardError: deltaError(table, value, expected, (i, j) => (slope(i) + slope(j)) / 2),
  };
}

/**
 * Fleiss' kappa of several readers: `counts[thing][class]` is how many of the readers put the thing in the class, the
 * same number of readers for each thing.
 * Source: Fleiss 1971, Psychol. Bull. 76:378–382.  Deceives when: one class is rare; readers differ from thing to thing
 * in skill.  Example: the ten subjects of 14 readers in the test → 0.210.
 */
export function fleissKappa(counts: readonly (readonly number[])[]): Omit<Agreement, 'standardError'> {
  const things = counts.length;
  const readers = counts[0]?.reduce((sum, x) => sum + x, 0) ?? 0;
  if (things < 1 || readers < 2 || counts.some((row) => row.reduce((sum, x) => sum + x, 0) !== readers)) {
    throw new RangeError('agreement: every thing needs the same number of readers, at least 2');
  }
  const pairs = counts.reduce((sum, row) => sum + row.reduce((s, x) => s + x * (x - 1), 0), 0);
  const observed = pairs / (things * readers * (readers - 1));
  const shares = counts[0]!.map((_, j) => counts.reduce((sum, row) => sum + row[j]!, 0) / (things * readers));
  const expected = shares.reduce((sum, p) => sum + p * p, 0);
  return { observed, expected, value: ofChance(observed, expected) };
}

/** An agreement with its normal interval, not beyond 1. */
export function agreementInterval(of: Agreement, confidence: number): Interval {
  const z = normalUpperQuantile((1 - confidence) / 2);
  return {
    value: of.value,
    lower: Math.max(-1, of.value - z * of.standardError),
    upper: Math.min(1, of.value + z * of.standardError),
    confidence,
  };
}

/**
 * Word for a kappa. Source: Landis & Koch 1977, Biometrics 33:159–174 (from memory, unverified).
 * Deceives when: it replaces the number: what is enough depends on what hangs on it.
 */
export function kappaWord(
  kappa: number,
): 'poor' | 'slight' | 'fair' | 'moderate' | 'substantial' | 'almost perfect' {
  if (kappa < 0) return 'poor';
  if (kappa <= 0.2) return 'slight';
  if (kappa <= 0.4) return 'fair';
  if (kappa <= 0.6) return 'moderate';
  if (kappa <= 0.8) return 'substantial';
  return 'almost perfect';
}
