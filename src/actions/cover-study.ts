import {
  type ControlKind,
  type ControlSteps,
  type Covered,
  coverRun,
  type Deviation,
  type Edition,
  type Run,
  type RunId,
  type RunRecovery,
  recoveryOfRun,
  type Specimen,
  type SpikedSteps,
  type Step,
  type StudyId,
  stepsMeasured,
  type Tap,
  type Tolerances,
  withAlike,
} from '../study/index.ts';
import type { Look } from './ports.ts';

/** What speaks for no background: specimens, and runs that carry particles on purpose (spiked runs speak for losses). */
export const SILENT: readonly Run['kind'][] = ['specimen', 'spiked-run', 'known-material'];

export interface RunOn {
  readonly run: Run;
  readonly specimen: Specimen | null;
  /** Pores of the run's filters; left out where nothing is asked of losses. */
  readonly poresUm?: readonly number[];
}

/** Of every specimen run: which controls repeat it, and which spiked runs lose as it does. */
export interface CoveredStudy {
  readonly covered: ReadonlyMap<RunId, Covered>;
  readonly recovery: ReadonlyMap<RunId, RunRecovery>;
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

/**
 * Every specimen run against every control and every spiked run, step by step, deviations included. Runs that did the same
 * are compared once.
 */
export async function coverStudy(look: Look, study: StudyId, runs: readonly RunOn[]): Promise<CoveredStudy> {
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
    runs.map(({ run, specimen, poresUm }) => [
      run.id,
      run.name,
      run.kind,
      specimen?.name ?? null,
      poresUm ?? [],
      stepsOf(run).did,
    ]),
  ]);
  const before = remembered.get(study);
  if (before?.key === key) return before.found;
  const found = {
    covered: coverAll(runs, stepsOf, rules?.tolerances),
    recovery: recoverAll(runs, stepsOf, rules?.tolerances),
  };
  if (remembered.size >= MOST_REMEMBERED) remembered.clear();
  remembered.set(study, { key, found });
  return found;
}

/**
 * Comparisons come again with every page, and nothing but steps and rules decides them: the last one of each study is kept
 * under all that went into it.
 */
const remembered = new Map<StudyId, { readonly key: string; readonly found: CoveredStudy }>();
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

/** Every specimen run against the spiked runs; what did the same and ended on the same filters is compared once. */
function recoverAll(
  runs: readonly RunOn[],
  stepsOf: ReturnType<typeof whatWasDone>,
  tolerances: Tolerances | undefined,
): ReadonlyMap<RunId, RunRecovery> {
  const spiked = new Map<string, SpikedSteps>();
  for (const { run, poresUm = [] } of runs) {
    if (run.kind !== 'spiked-run') continue;
    const { did, steps } = stepsOf(run);
    const key = `${did} on ${poresUm.join(' ')}`;
    const there = spiked.get(key);
    spiked.set(key, {
      runs: [...(there?.runs ?? []), run.id],
      name: there?.name ?? run.name,
      steps,
      poresUm,
    });
  }
  const groups = [...spiked.values()];
  const known = new Map<string, RunRecovery>();
  const recovery = new Map<RunId, RunRecovery>();
  for (const { run, specimen, poresUm = [] } of runs) {
    if (run.kind !== 'specimen' || groups.length === 0) continue;
    const { did, steps } = stepsOf(run);
    const key = `${did} on ${poresUm.join(' ')} of ${specimen?.name ?? ''}`;
    const found =
      known.get(key) ?? recoveryOfRun(steps, poresUm, groups, specimen ? [specimen.name] : [], tolerances);
    known.set(key, found);
    recovery.set(run.id, found);
  }
  return recovery;
}
