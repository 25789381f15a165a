import type { Step } from '../records/procedure.ts';
import type { Fate, FractionKind, RunFraction } from '../records/run.ts';

/** Where the liquid of a run went. Nothing vanishes: what no fraction accounts for is said as missing. */
export interface Balance {
  /** What was poured in, as the steps say; null: no step says it. */
  readonly inMl: number | null;
  readonly inFrom: readonly { readonly step: string; readonly volumeMl: number }[];
  readonly parts: readonly { readonly kind: FractionKind; readonly fate: Fate; readonly volumeMl: number }[];
  readonly outMl: number;
  /** In less out: above 0 something is unaccounted for, below 0 more came out than went in; null: what went in is not known. */
  readonly missingMl: number | null;
  readonly agrees: boolean;
  /** More came out than all that was poured, filtered and rinsed can have given: one of the volumes is wrong. */
  readonly cannotBe: boolean;
  readonly sentence: string;
}

/** Volumes read from a cylinder agree within this share of what went in, or 1 mL. Common practice, no source. */
export const VOLUMES_AGREE = { share: 0.03, ml: 1 } as const;

/** So many times all that the steps poured in, rinses included, and more is a slip and no reading. Common practice, no source. */
export const OUT_AT_MOST = 1.25;

/** Steps that put liquid in; what a filter step names is liquid already there and only stands in where nothing else does. */
const POURING = ['soak', 'digest', 'dilute', 'float'];

const total = (parts: readonly { readonly volumeMl: number }[]): number =>
  parts.reduce((sum, one) => sum + one.volumeMl, 0);
const figure = (ml: number): string => String(Number(ml.toPrecision(3)));

/** Draws up the balance of a run from its steps as done and its fractions; rinses come on top and are no part of it. */
export function balance(steps: readonly Step[], fractions: readonly RunFraction[]): Balance {
  const poured = steps.flatMap((step) =>
    POURING.includes(step.kind) && step.quantities.volume_ml !== undefined
      ? [{ step: step.key, volumeMl: step.quantities.volume_ml }]
      : [],
  );
  const filtered = steps.flatMap((step) =>
    step.kind === 'filter' && step.quantities.volume_ml !== undefined
      ? [{ step: step.key, volumeMl: step.quantities.volume_ml }]
      : [],
  );
  // What was filtered is measured last and nearest to the fractions; evaporation and transfers come before it.
  const inFrom = filtered.length > 0 ? filtered : poured;
  const inMl = inFrom.length > 0 ? total(inFrom) : null;
  const rinsed = steps.flatMap(({ kind, quantities: { volume_ml = 0, times = 1 } }) =>
    kind === 'rinse' || kind === 'wash' ? [volume_ml * times] : [],
  );
  const most = Math.max(total(poured), total(filtered)) + rinsed.reduce((sum, ml) => sum + ml, 0);
  const own = fractions.filter((fraction) => fraction.kind !== 'rinse');
  const outMl = own.reduce((sum, fraction) => sum + fraction.volumeMl, 0);
  const missingMl = inMl === null ? null : inMl - outMl;
  const within = inMl === null ? 0 : Math.max(VOLUMES_AGREE.ml, VOLUMES_AGREE.share * inMl);
  const cannotBe = inMl !== null && outMl > Math.max(OUT_AT_MOST * most, most + VOLUMES_AGREE.ml);
  const agrees = missingMl !== null && Math.abs(missingMl) <= within;
  return {
    inMl,
    inFrom,
    parts: fractions.map(({ kind, fate, volumeMl }) => ({ kind, fate, volumeMl })),
    outMl,
    missingMl,
    agrees,
    cannotBe,
    sentence: sentenceOf(inMl, outMl, own.length, missingMl, agrees),
  };
}

function sentenceOf(
  inMl: number | null,
  outMl: number,
  parts: number,
  missingMl: number | null,
  agrees: boolean,
): string {
  if (inMl === null && parts === 0) return 'Where the liquid went is not recorded yet.';
  if (inMl === null || missingMl === null) {
    return `${figure(outMl)} mL are accounted for; how much went in is written in no step, so that nothing can be said of what is missing.`;
  }
  if (parts === 0) return `${figure(inMl)} mL went in; where they went is not recorded yet.`;
  if (agrees) return `All ${figure(inMl)} mL are accounted for.`;
  return missingMl > 0
    ? `${figure(missingMl)} of ${figure(inMl)} mL are accounted for by nothing: they were not looked at. Say where they are, or that they were lost.`
    : `${figure(outMl)} mL came out of ${figure(inMl)} mL: one of the volumes is wrong, or more was poured in than the steps say.`;
}
