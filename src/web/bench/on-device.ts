/** A run as this device knows it: the sheet that the laboratory gave, and the taps that it does not have yet. */
import type { FractionJson, RunSheetAnswer } from '../../api/index.ts';
import {
  type BenchTap,
  balance,
  type Covered,
  coverRun,
  type Deviation,
  deposition,
  type Run,
  type RunFraction,
  runSheet,
  standingTaps,
  stepsMeasured,
  stopsIn,
  type TapOf,
  USUAL_TOLERANCES,
  uncoveredSum,
} from '../../study/index.ts';
import type { DeviceTap } from './device-store.ts';

type Filters = RunSheetAnswer['filters'];
/** What can be known of a filter that was laid here a moment ago. */
export type FilterHere = Omit<Filters[number], 'code'>;

/** All taps of the run: the laboratory's in its order, then those that wait here. */
export function allTaps(
  sheet: RunSheetAnswer,
  here: readonly DeviceTap[],
  device: string,
): readonly BenchTap[] {
  const known = new Set<string>(sheet.taps.map((tap) => tap.id));
  const more = here
    .filter((tap) => tap.run === sheet.run.id && !known.has(tap.id))
    .map(
      (tap): BenchTap => ({
        id: tap.id as BenchTap['id'],
        deed: tap.deed,
        at: tap.at as BenchTap['at'],
        device,
        number: tap.number,
        refusal: null,
      }),
    );
  return [...sheet.taps, ...more];
}

const standingOf = <K extends BenchTap['deed']['do']>(taps: readonly BenchTap[], kind: K) =>
  standingTaps(taps).filter((tap): tap is TapOf<K> => tap.deed.do === kind);

/** Records made by taps stand as their taps do; the others as the laboratory says. */
function withTaps<T extends { readonly id: string }>(
  records: readonly T[],
  taps: readonly BenchTap[],
  made: readonly T[],
): readonly T[] {
  const byTap = new Set<string>(
    taps.flatMap((tap) => (tap.deed.do === 'filtered' ? [tap.id, tap.deed.remainder] : [tap.id])),
  );
  return [...records.filter((record) => !byTap.has(record.id)), ...made];
}

export function deviationsHere(sheet: RunSheetAnswer, taps: readonly BenchTap[]): readonly Deviation[] {
  const made = standingOf(taps, 'otherwise').map(
    ({ id, deed, at }): Deviation => ({
      id: id as string as Deviation['id'],
      runs: [sheet.run.id as Run['id']],
      kind: deed.kind,
      stepKey: deed.step,
      asDone: deed.as_done,
      what: deed.what,
      why: deed.why,
      at,
      by: '' as Deviation['by'],
    }),
  );
  return withTaps(sheet.deviations, taps, made);
}

export function fractionsHere(sheet: RunSheetAnswer, taps: readonly BenchTap[]): readonly FractionJson[] {
  const own = standingOf(taps, 'fraction').map(
    ({ id, deed }): FractionJson => ({
      id,
      kind: deed.kind,
      volume_ml: deed.volume_ml,
      place: deed.place,
      fate: deed.fate,
      note: deed.note,
    }),
  );
  const filtered = standingOf(taps, 'filtered').flatMap(({ id, deed }): FractionJson[] => {
    const note = deed.clogged ? 'the filter clogged' : '';
    const passed = {
      id,
      kind: 'passed',
      volume_ml: deed.passed_ml,
      place: '',
      fate: 'examined',
      note,
    } as const;
    const { remainder, remainder_ml, place, fate } = deed;
    const left = { id: remainder, kind: 'remainder', volume_ml: remainder_ml, place, fate, note } as const;
    return [...(deed.passed_ml > 0 ? [passed] : []), ...(remainder_ml > 0 ? [left] : [])];
  });
  return withTaps(sheet.fractions, taps, [...own, ...filtered]);
}

export function filtersHere(sheet: RunSheetAnswer, taps: readonly BenchTap[]): readonly FilterHere[] {
  const made = standingOf(taps, 'lay-filter').map(
    ({ id, deed }): FilterHere => ({
      id,
      name: deed.name,
      pore_um: deed.pore_um,
      effective_diameter_mm: deed.effective_diameter_mm,
    }),
  );
  return withTaps<FilterHere>(sheet.filters, taps, made);
}

/** Everything that the page shows of the run, reckoned here, so that it answers without the laboratory. */
export function onDevice(sheet: RunSheetAnswer, taps: readonly BenchTap[]) {
  const deviations = deviationsHere(sheet, taps);
  const run = { id: sheet.run.id as Run['id'] };
  const lines = runSheet(sheet.edition, run, deviations, taps);
  const steps = stepsMeasured(sheet.edition, run, deviations, taps);
  const fractions = fractionsHere(sheet, taps);
  const uncovered = uncoveredSum(lines.steps);
  const { controls, product, tolerances } = sheet.covering;
  const covered: Covered | null =
    sheet.run.kind === 'specimen-run' && controls.length > 0
      ? coverRun(steps, controls, product, tolerances ?? USUAL_TOLERANCES)
      : null;
  return {
    sheet: lines,
    steps,
    deviations,
    fractions,
    filters: filtersHere(sheet, taps),
    uncovered,
    covered,
    /** What must not meet in the run as it is done up to now. */
    stops: stopsIn(steps),
    fell: deposition(uncovered.minutes, sheet.run.session, sheet.dishes, sheet.confidence),
    balance: balance(
      steps,
      fractions.map(
        (one) => ({ kind: one.kind, fate: one.fate, volumeMl: one.volume_ml }) as unknown as RunFraction,
      ),
    ),
  };
}
export type OnDevice = ReturnType<typeof onDevice>;
