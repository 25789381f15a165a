/** Two people looked for pieces on the same fields: matched by place, what both found, and how many both may have missed. */
import {
  agreementInterval,
  agreementWhenRare,
  type Interval,
  piecesByTwoScorers,
} from '../../science/counting/index.ts';
import { matchByPlace, type SizeLimits, sizeLimits } from '../../science/evidence/index.ts';
import type { BlindRound } from '../records/blind-round.ts';
import { CALLS, type Call } from '../records/known-set.ts';
import type { LatestReadings } from './round-state.ts';

/** Two marks nearer than this part of the picture's side are the same piece. */
const REACH = 0.04;
const CONFIDENCE = 0.95;

export interface FieldsAgreement {
  readonly fields: number;
  readonly first: number;
  readonly second: number;
  readonly both: number;
  /** Of all pieces that anybody found, those that both found. */
  readonly overlap: number | null;
  /** How many there are if the two looked independently and every piece is as easy to find as the next. */
  readonly estimate: Interval;
  readonly missedByBoth: number;
  /** On pieces that both found: rows first, columns second; plastic, other, cannot tell. */
  readonly table: readonly (readonly number[])[];
  readonly robust: Interval | null;
  /** First against second where both measured a piece: ratio, and between which ratios 95 % lie. Null below two pairs. */
  readonly sizes:
    | (Pick<SizeLimits, 'pairs'> & { readonly ratio: number; readonly lower: number; readonly upper: number })
    | null;
}

/** Null unless two scorers have read fields. */
export function fieldsAgreement(round: BlindRound, readings: LatestReadings): FieldsAgreement | null {
  const [one, other] = round.scorers;
  if (round.what !== 'fields' || one === undefined || other === undefined) return null;
  let [fields, first, second, both] = [0, 0, 0, 0];
  const table = CALLS.map(() => CALLS.map(() => 0));
  const lengths: [first: number[], second: number[]] = [[], []];
  const row = (called: Call): number => CALLS.indexOf(called);
  for (const card of round.key) {
    const a = readings.of(card.code, one)?.points;
    const b = readings.of(card.code, other)?.points;
    if (!a || !b) continue;
    fields++;
    first += a.length;
    second += b.length;
    const matched = matchByPlace(
      a.map(({ x, y }) => [x, y] as const),
      b.map(({ x, y }) => [x, y] as const),
      REACH,
    );
    both += matched.both.length;
    for (const [i, j] of matched.both) {
      table[row(a[i]!.called)]![row(b[j]!.called)]! += 1;
      const [one, two] = [a[i]!.length, b[j]!.length];
      if (one && two) {
        lengths[0].push(Math.log(one));
        lengths[1].push(Math.log(two));
      }
    }
  }
  if (fields === 0) return null;
  const estimate = piecesByTwoScorers(first, second, both, CONFIDENCE);
  const seen = first + second - both;
  const limits = lengths[0].length < 2 ? null : sizeLimits(lengths[0], lengths[1]);
  return {
    fields,
    first,
    second,
    both,
    overlap: seen === 0 ? null : both / seen,
    estimate,
    missedByBoth: Math.max(0, estimate.value - seen),
    table,
    robust: both === 0 ? null : agreementInterval(agreementWhenRare(table), CONFIDENCE),
    sizes: limits && {
      pairs: limits.pairs,
      ratio: Math.exp(limits.bias),
      lower: Math.exp(limits.lower),
      upper: Math.exp(limits.upper),
    },
  };
}
