/** The bench as it travels: how far every run is, and what a device needs to carry one out. */
import {
  type BenchRun,
  benchOfStudy,
  type CountedRun,
  type CountedStudy,
  controlSteps,
  countStudy,
  type Look,
} from '../actions/index.ts';
import type { BenchAnswer, BenchRunJson, FractionJson, RunSheetAnswer } from '../api/index.ts';
import {
  type Covered,
  cautionsOfAll,
  controlCalled,
  type Deviation,
  gapSentence,
  type Id,
  labelCode,
  mendSentence,
  type RunFraction,
  SAFETY_FIRST,
  type SetupPhoto,
  stopsIn,
  type Tap,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';
import { runKind } from './study-views.ts';

export const fractionJson = (fraction: RunFraction): FractionJson => ({
  id: fraction.id,
  kind: fraction.kind,
  volume_ml: fraction.volumeMl,
  place: fraction.place,
  fate: fraction.fate,
  note: fraction.note,
});

export const setupPhotoJson = (photo: SetupPhoto): RunSheetAnswer['setup_photos'][number] => ({
  id: photo.id,
  run: photo.run,
  step: photo.stepKey,
  name: photo.name,
  note: photo.note,
  width_px: photo.widthPx,
  height_px: photo.heightPx,
  added_at: photo.at,
});

const GRAVITY = ['same', 'scaled', 'unknown', 'different', 'missing'] as const;

function coverageJson(run: string, covered: Covered | undefined): BenchRunJson['coverage'] {
  if (!covered) return null;
  const worst = covered.steps.reduce((at, { grade }) => Math.max(at, GRAVITY.indexOf(grade)), 0);
  return {
    grade: GRAVITY[worst]!,
    mend: covered.background.nearest && mendSentence(run, covered.background),
    gaps: covered.gaps.map((gap) => ({
      sentence: gapSentence(run, gap, covered.background),
      closed_by: controlCalled(gap.closedBy),
      grade: gap.grade,
    })),
  };
}

function benchRunJson(
  { run, sheet, steps: measured, uncovered, fell, balance }: BenchRun,
  covered: Covered | undefined,
  deviations: readonly Deviation[],
): BenchRunJson {
  const steps = sheet.steps.filter((line) => line.otherwise !== 'left-out');
  return {
    run: run.run.id,
    order: run.run.order,
    session: run.run.session,
    // A run of former times has filters and photographs and no taps: it was done.
    state: sheet.state === 'planned' && run.count !== null ? 'done' : sheet.state,
    clogged: sheet.clogged,
    steps_done: steps.filter((line) => line.state === 'done').length,
    steps: steps.length,
    deviations: deviations
      .filter((deviation) => deviation.runs.includes(run.run.id))
      .map(({ id, what, why }) => ({ id, what, why })),
    coverage: coverageJson(run.run.name, covered),
    uncovered: {
      minutes: uncovered.minutes,
      measured_min: uncovered.measuredMin,
      openings: uncovered.openings,
      not_said: [...uncovered.notSaid],
    },
    deposition: fell.ok
      ? {
          expected: fell.value.expected,
          lower: fell.value.lower,
          upper: fell.value.upper,
          confidence: fell.value.confidence,
          from: fell.value.from,
        }
      : null,
    deposition_refusal: fell.ok ? null : { why: fell.refusal.why, message: fell.refusal.message },
    balance: {
      in_ml: balance.inMl,
      out_ml: balance.outMl,
      missing_ml: balance.missingMl,
      agrees: balance.agrees,
      sentence: balance.sentence,
    },
    fractions: run.fractions.map(fractionJson),
    problems: [...sheet.problems],
    stops: stopsIn(measured).map(({ message }) => message),
    cautions: [SAFETY_FIRST, ...cautionsOfAll(measured).map(({ message }) => message)],
    code: labelCode(run.run.id),
  };
}

export const benchView = ({ records }: Served, id: string): Promise<Outcome<BenchAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as Id<'study'>);
    if (!study) return noSuch('study', id);
    const counted = await countStudy(look, study);
    const { runs } = await benchOfStudy(look, counted);
    const deviations = await look.deviations.ofStudy(study.id);
    const order = await look.runOrders.newest(study.id);
    return done({
      runs: runs.map((run) => benchRunJson(run, counted.covered.get(run.run.run.id), deviations)),
      order: order && {
        seed: order.seed,
        method: order.method,
        at: order.at,
        by: (await look.people.get(order.by))?.name ?? null,
      },
    });
  });

export const tapJson = (tap: Tap, people: ReadonlyMap<string, string>): RunSheetAnswer['taps'][number] => ({
  id: tap.id,
  device: tap.device,
  number: tap.number,
  deed: tap.deed,
  refusal: tap.refusal && { why: tap.refusal.why, message: tap.refusal.message },
  at: tap.at,
  by: people.get(tap.by) ?? null,
});

export const sheetView = ({ records }: Served, id: string): Promise<Outcome<RunSheetAnswer>> =>
  records.look(async (look) => {
    const run = await look.runs.get(id as Id<'run'>);
    const study = run && (await look.studies.get(run.study));
    if (!run || !study) return noSuch('run', id);
    const counted = await countStudy(look, study);
    const own = counted.runs.find((one) => one.run.id === run.id);
    if (!own) {
      return refused({
        why: 'withdrawn',
        message: `Run “${run.name}” is withdrawn; put it back on the study’s page of runs to go on with it.`,
      });
    }
    return done(await sheetJson(look, counted, own));
  });

async function sheetJson(look: Look, counted: CountedStudy, own: CountedRun): Promise<RunSheetAnswer> {
  const { study } = counted;
  const { run, specimen, portion } = own;
  const edition = (await look.editions.get(run.edition))!;
  const procedure = await look.procedures.get(edition.procedure);
  const people = new Map((await look.people.list()).map((person) => [person.id as string, person.name]));
  const deviations = (await look.deviations.ofStudy(study.id)).filter((one) => one.runs.includes(run.id));
  const last = (await look.filters.ofStudy(study.id)).at(-1);
  return {
    run: {
      id: run.id,
      name: run.name,
      kind: runKind(run.kind),
      study: run.study,
      order: run.order,
      session: run.session,
      on: run.day,
      by: people.get(run.by) ?? null,
      note: run.note,
      specimen: specimen?.name ?? null,
      portion: portion && { name: portion.name, mass_g: portion.massG },
      code: labelCode(run.id),
    },
    study: study.name,
    edition: {
      id: edition.id,
      label: `${procedure?.name ?? 'procedure'}, edition ${edition.number}`,
      steps: [...edition.steps],
    },
    deviations,
    taps: (await look.taps.ofRun(run.id)).map((tap) => tapJson(tap, people)),
    fractions: own.fractions.map(fractionJson),
    filters: own.filters.map((filter) => ({
      id: filter.id,
      name: filter.name,
      pore_um: filter.poreUm,
      effective_diameter_mm: filter.effectiveDiameterMm,
      code: labelCode(filter.id),
    })),
    last_filter: last
      ? {
          name: '',
          material: last.material,
          pore_um: last.poreUm,
          effective_diameter_mm: last.effectiveDiameterMm,
          pitch_mm: last.pitchMm,
          lot: last.lot,
          fraction: null,
          examined_stated: null,
          note: '',
        }
      : null,
    setup_photos: (await look.setupPhotos.ofRun(run.id)).map(setupPhotoJson),
    covering: {
      controls: [...(await controlSteps(look, study.id, counted.runs))],
      product: specimen ? [specimen.name] : [],
      tolerances: (await look.comparisonRules.newest(study.id))?.tolerances ?? null,
    },
    dishes: [...(await benchOfStudy(look, counted)).dishes],
    confidence: study.question.decision.confidence,
    smallest_um: study.question.sizeFromUm,
  };
}
