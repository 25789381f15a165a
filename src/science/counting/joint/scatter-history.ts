import type { ScatterHistory } from './group-rate.ts';
import type { EarlierBatch } from './net-input.ts';

const POINTS = 40;
const REACH = 5;

/**
 * What earlier batches of controls say of scatter between controls: the negative binomial likelihood of each batch with
 * its own mean summed out (1/mean prior), so that batches may differ in level and only the scatter within them speaks.
 * Holds for: batches made by the same procedure. Deceives when: the laboratory has since become cleaner or dirtier in
 * its scatter, not only in its level.
 */
export function scatterHistory(batches: readonly EarlierBatch[]): ScatterHistory | undefined {
  const useful = batches.filter((b) => b.length > 1 && b.some((run) => run.count > 0));
  if (useful.length === 0) return undefined;
  const known = new Map<number, number>();
  return (s2) => {
    const before = known.get(s2);
    if (before !== undefined) return before;
    let sum = 0;
    for (const batch of useful) sum += lnBatch(batch, s2);
    known.set(s2, sum);
    return sum;
  };
}

function lnBatch(batch: EarlierBatch, s2: number): number {
  let total = 0;
  let seen = 0;
  let fixed = 0;
  for (const run of batch) {
    total += run.count;
    seen += run.passed * run.examined;
    for (let j = 1; j < run.count; j++) fixed += Math.log1p(s2 * j);
  }
  const centre = Math.log(total / seen);
  const spread = Math.sqrt(1 / total + s2 / batch.length);
  const terms: number[] = [];
  let top = -Infinity;
  for (let i = 0; i <= POINTS; i++) {
    const rate = Math.exp(centre + spread * (-REACH + (2 * REACH * i) / POINTS));
    let ln = 0;
    for (const run of batch) {
      const mean = run.passed * run.examined * rate;
      ln += run.count * Math.log(mean);
      ln -= s2 < 1e-9 ? mean : (run.count + 1 / s2) * Math.log1p(s2 * mean);
    }
    terms.push(ln);
    top = Math.max(top, ln);
  }
  return fixed + top + Math.log(spread * terms.reduce((sum, t) => sum + Math.exp(t - top), 0));
}
