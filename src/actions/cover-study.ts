import {
  type ControlKind,
  type ControlSteps,
  type Covered,
  coverRun,
  type Deviation,
  type Edition,
  type Run,
  type RunId,
  type Specimen,
  type Step,
  type StudyId,
  stepsMeasured,
  type Tap,
  type Tolerances,
  withAlike,
} from '../study/index.ts';
import type { Look } from './ports.ts';

/** Controls that speak for a background; spiked runs and known material carry particles on purpose. */
export const SILENT: readonly Run['kind'][] = ['specimen', 'spiked-run', 'known-material'];

export interface RunOn {
  readonly run: Run;
  readonly specimen: Specimen | null;
}

/** What a run did: its edition's steps with its deviations, and as its taps measured them. `did` is the same for runs that did the same. */
export function whatWasDone(
  editions: ReadonlyMap<string, Edition>,
  deviations: readonly Deviation[],
  taps: readonly Tap[] = [],
  alike: readonly (readonly string[])[] = [],
): (run: Run) => { readonly did: string; readonly steps: readonly Step[] } {
  return (run) => {
    const mine = deviations.filter((deviation) => deviation.runs.includes(run.id));
    const edition = editions.get(run.edition);
    const tapped = taps.filter((tap) => tap.run === run.id);
    const steps = edition ? withAlike(stepsMeasured(edition, run, mine, tapped), alike) : [];
    return { did: JSON.stringify(steps), steps };
  };
}

/** The controls of a study with the steps that they really went through; those that did the same stand together. */
export async function controlSteps(
  look: Look,
  study: StudyId,
  runs: readonly RunOn[],
): Promise<readonly ControlSteps[]> {
  const editions = new Map((await look.editions.ofStudy(study)).map((edition) => [edition.id, edition]));
  const alike = (await look.comparisonRules.newest(study))?.alike;
  return controlsOf(
    runs,
    whatWasDone(editions, await look.deviations.ofStudy(study), await look.taps.ofStudy(study), alike),
  );
}

function controlsOf(
  runs: readonly RunOn[],
  stepsOf: ReturnType<typeof whatWasDone>,
): readonly ControlSteps[] {
  const controls = new Map<string, ControlSteps>();
  for (const { run } of runs) {
    if (SILENT.includes(run.kind)) continue;
    const { did, steps } = stepsOf(run);
    // Of one kind: an act control and a blank by the same steps stay two.
    const key = `${run.kind} ${did}`;
    const there = controls.get(key);
    controls.set(key, {
      runs: [...(there?.runs ?? []), run.id],
      name: there?.name ?? run.name,
      kind: run.kind as ControlKind,
      steps,
    });
  }
  return [...controls.values()];
}

/** Every specimen run against every control, step by step, deviations included. Runs that did the same are compared once. */
export async function coverStudy(
  look: Look,
  study: StudyId,
  runs: readonly RunOn[],
): Promise<ReadonlyMap<RunId, Covered>> {
  const editions = new Map((await look.editions.ofStudy(study)).map((edition) => [edition.id, edition]));
  const rules = await look.comparisonRules.newest(study);
  const stepsOf = whatWasDone(
    editions,
    await look.deviations.ofStudy(study),
    await look.taps.ofStudy(study),
    rules?.alike,
  );
  const key = JSON.stringify([
    rules?.tolerances ?? null,
    runs.map(({ run, specimen }) => [run.id, run.name, run.kind, specimen?.name ?? null, stepsOf(run).did]),
  ]);
  const before = remembered.get(study);
  if (before?.key === key) return before.covered;
  const covered = coverAll(runs, stepsOf, rules?.tolerances);
  if (remembered.size >= MOST_REMEMBERED) remembered.clear();
  remembered.set(study, { key, covered });
  return covered;
}

/**
 * Comparisons come again with every page, and nothing but steps and rules decides them: the last one of each study is kept
 * under all that went into it.
 */
const remembered = new Map<
  StudyId,
  { readonly key: string; readonly covered: ReadonlyMap<RunId, Covered> }
>();
const MOST_REMEMBERED = 16;

function coverAll(
  runs: readonly RunOn[],
  stepsOf: ReturnType<typeof whatWasDone>,
  tolerances: Tolerances | undefined,
): ReadonlyMap<RunId, Covered> {
  const controls = controlsOf(runs, stepsOf);
  const known = new Map<string, Covered>();
  const covered = new Map<RunId, Covered>();
  for (const { run, specimen } of runs) {
    if (run.kind !== 'specimen') continue;
    const { did, steps } = stepsOf(run);
    const key = `${did} on ${specimen?.name ?? ''}`;
    const found = known.get(key) ?? coverRun(steps, controls, specimen ? [specimen.name] : [], tolerances);
    known.set(key, found);
    covered.set(run.id, found);
  }
  return covered;
}
