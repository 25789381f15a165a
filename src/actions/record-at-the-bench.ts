import {
  type AsGiven,
  type Deviation,
  type Filter,
  impossibleStep,
  makeDeviation,
  makeFilter,
  makeOptics,
  makeRunFraction,
  type Optics,
  type RunFraction,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known, nameFree } from './known.ts';
import type { Desk, Tools } from './ports.ts';

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;
/** What a deed needs inside a transaction that is already open; `id` where a tap of a device brings its own. */
type Within = Pick<Tools, 'clock' | 'names'> & { readonly id?: string };

/** What was done otherwise than the edition says; it must name a step of each run's edition. */
export const recordDeviation = (bench: Bench, given: DeviationGiven): Promise<Outcome<Deviation>> =>
  bench.records.change((desk) => deviationOnDesk(desk, bench, given));

export type DeviationGiven = AsGiven<Omit<Deviation, 'id' | 'at'>>;

export async function deviationOnDesk(
  desk: Desk,
  { clock, names, id: own }: Within,
  given: DeviationGiven,
): Promise<Outcome<Deviation>> {
  const made = makeDeviation({ ...given, id: own ?? names.next(), at: clock.now() });
  if (!made.ok) return made;
  const cannotBe = made.value.asDone && impossibleStep(made.value.asDone);
  if (cannotBe) return refused(cannotBe);
  for (const id of made.value.runs) {
    const run = await known(desk.runs.get(id), 'run', id);
    if (!run.ok) return run;
    const edition = await desk.editions.get(run.value.edition);
    const { stepKey } = made.value;
    if (stepKey !== null && !edition?.steps.some((step) => step.key === stepKey)) {
      return refused({
        why: 'no-such-step',
        message: `deviation: run “${run.value.name}” has no step “${stepKey}”; choose one of its procedure.`,
      });
    }
  }
  await desk.deviations.add(made.value);
  return done(made.value);
}

/** A liquid or solid that the run split into, with its volume, place and fate. */
export const recordFraction = (bench: Bench, given: FractionGiven): Promise<Outcome<RunFraction>> =>
  bench.records.change((desk) => fractionOnDesk(desk, bench, given));

export type FractionGiven = AsGiven<Omit<RunFraction, 'id' | 'at'>>;

export async function fractionOnDesk(
  desk: Desk,
  { clock, names, id }: Within,
  given: FractionGiven,
): Promise<Outcome<RunFraction>> {
  const run = await known(desk.runs.get(asId(given.run)), 'run', given.run);
  if (!run.ok) return run;
  const made = makeRunFraction({ ...given, id: id ?? names.next(), at: clock.now() });
  if (made.ok) await desk.fractions.add(made.value);
  return made;
}

/** A filter of a run; where the liquid went through several, the one that went through this. */
export const layFilter = (bench: Bench, given: FilterGiven): Promise<Outcome<Filter>> =>
  bench.records.change((desk) => filterOnDesk(desk, bench, given));

export type FilterGiven = AsGiven<Omit<Filter, 'id' | 'madeAt'>>;

export async function filterOnDesk(
  desk: Desk,
  { clock, names, id }: Within,
  given: FilterGiven,
): Promise<Outcome<Filter>> {
  const run = await known(desk.runs.get(asId(given.run)), 'run', given.run);
  if (!run.ok) return run;
  const beside = (await desk.filters.ofStudy(run.value.study)).filter(
    (filter) => filter.run === run.value.id,
  );
  const free = nameFree(given.name, beside, 'filter');
  if (!free.ok) return free;
  if (given.fraction) {
    const fraction = await known(desk.fractions.get(asId(given.fraction)), 'fraction', given.fraction);
    if (!fraction.ok) return fraction;
    if (fraction.value.run !== run.value.id) {
      return refused({
        why: 'other-run',
        message: `filter “${given.name}”: its liquid belongs to another run; choose a fraction of this one.`,
      });
    }
  }
  const made = makeFilter({ ...given, id: id ?? names.next(), madeAt: clock.now() });
  if (made.ok) await desk.filters.add(made.value);
  return made;
}

/** A lens setting with its calibration. */
export const setOptics = (
  { records, clock, names }: Bench,
  given: AsGiven<Omit<Optics, 'id' | 'madeAt'>>,
): Promise<Outcome<Optics>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(given.study)), 'study', given.study);
    if (!study.ok) return study;
    const free = nameFree(given.name, await desk.optics.ofStudy(study.value.id), 'lens setting');
    if (!free.ok) return free;
    const made = makeOptics({ ...given, id: names.next(), madeAt: clock.now() });
    if (made.ok) await desk.optics.add(made.value);
    return made;
  });
