import {
  type Edition,
  type Instant,
  makeEdition,
  makePlan,
  makeProcedure,
  mendingSteps,
  mendSentence,
  type PlannedRun,
  stepsAsDone,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { countStudy } from './count-runs.ts';
import { whatWasDone } from './cover-study.ts';
import { asId, everOf, known } from './known.ts';
import type { Tools } from './ports.ts';

/**
 * Plans the control that takes a run in again: a procedure like the nearest control's, done as the run was where they differ,
 * and a planned run of it.
 */
export const planClosingControl = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly run: string; readonly by: string },
): Promise<Outcome<PlannedRun>> =>
  records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const run = await known(desk.runs.get(asId(wish.run)), 'run', wish.run);
    if (!run.ok) return run;
    const study = await known(desk.studies.get(run.value.study), 'study', run.value.study);
    if (!study.ok) return study;
    const counted = await countStudy(desk, study.value);
    const mine = counted.runs.find((one) => one.run.id === run.value.id);
    const background = mine?.background;
    const like = counted.runs.find((one) => one.run.name === background?.nearest?.name)?.run;
    if (!mine || !background?.nearest || !like) {
      return refused({
        why: 'nothing-to-mend',
        message: `Run “${run.value.name}” has its controls, or there is none to begin from: write its procedure first.`,
      });
    }
    const editions = new Map((await desk.editions.ofStudy(study.value.id)).map((one) => [one.id, one]));
    const deviations = await desk.deviations.ofStudy(study.value.id);
    const taps = await desk.taps.ofStudy(study.value.id);
    const edition: Edition = editions.get(like.edition)!;
    const rules = await desk.comparisonRules.newest(study.value.id);
    const steps = mendingSteps(
      whatWasDone(editions, deviations, taps, rules?.alike)(run.value).steps,
      stepsAsDone(edition, like, deviations),
      mine.specimen ? [mine.specimen.name] : [],
      rules?.tolerances,
    );
    if (!steps) {
      return refused({
        why: 'by-hand',
        message: `The control for run “${run.value.name}” cannot be written by itself: steps are missing or in another order. Change the procedure of “${like.name}” by hand.`,
      });
    }
    const now: Instant = clock.now();
    const followed = await desk.procedures.get(edition.procedure);
    // A procedure of its own: runs still to do by the control's procedure go on by that one.
    const procedure = makeProcedure({
      id: names.next(),
      study: study.value.id,
      name: freeName(
        `${followed?.name ?? like.name}, to match ${run.value.name}`,
        (await everOf(desk.procedures, study.value.id)).map(({ name }) => name),
      ),
    });
    if (!procedure.ok) return procedure;
    const first = makeEdition({
      id: names.next(),
      procedure: procedure.value.id,
      number: 1,
      steps,
      because: `To match run ${run.value.name}: ${background.nearest.changes.map(({ words }) => words).join(', ')}.`,
      madeAt: now,
      by: wish.by,
    });
    if (!first.ok) return first;
    await desk.procedures.add(procedure.value);
    await desk.editions.add(first.value);
    const before = await desk.plans.newest(study.value.id);
    const planned: PlannedRun = {
      name: freeName(`${like.kind}-for-${run.value.name}`.slice(0, 100), [
        ...counted.runs.map((one) => one.run.name),
        ...counted.withdrawn.map((one) => one.run.name),
        ...(before?.runs ?? []).map((one) => one.name),
      ]),
      kind: like.kind,
      edition: first.value.id,
      specimen: null,
      session: 'next sitting',
      order: Math.max(0, ...(before?.runs ?? []).map(({ order }) => order)) + 1,
      because: mendSentence(run.value.name, background),
    };
    const plan = makePlan({
      id: names.next(),
      study: study.value.id,
      answers: (before?.answers ?? {}) as never,
      runs: [...(before?.runs ?? []), planned],
      at: now,
      by: wish.by,
    });
    if (!plan.ok) return plan;
    await desk.plans.add(plan.value);
    return done(planned);
  });

/** The name, or with the first number that is free behind it. */
function freeName(name: string, taken: readonly string[]): string {
  const wanted = name.slice(0, 110);
  const used = new Set(taken.map((one) => one.toLowerCase()));
  if (!used.has(wanted.toLowerCase())) return wanted;
  for (let n = 2; ; n += 1) if (!used.has(`${wanted} ${n}`.toLowerCase())) return `${wanted} ${n}`;
}
