import {
  type Balance,
  type Deposition,
  deposition,
  type Edition,
  type OpenDish,
  type RunSheet,
  runSheet,
  type Step,
  stepsMeasured,
  tapsByRun,
  type UncoveredSum,
  uncoveredSum,
} from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import type { CountedRun, CountedStudy } from './count-runs.ts';
import type { Look } from './ports.ts';

/** One run as the bench left it. */
export interface BenchRun {
  readonly run: CountedRun;
  readonly sheet: RunSheet;
  /** As done and measured. */
  readonly steps: readonly Step[];
  readonly uncovered: UncoveredSum;
  readonly fell: Outcome<Deposition>;
  readonly balance: Balance;
}

export interface BenchOfStudy {
  readonly runs: readonly BenchRun[];
  readonly dishes: readonly OpenDish[];
}

/** How far every run of a study is, from its taps. */
export async function benchOfStudy(look: Look, counted: CountedStudy): Promise<BenchOfStudy> {
  const { study, runs } = counted;
  const editions = new Map<string, Edition>(
    (await look.editions.ofStudy(study.id)).map((edition) => [edition.id, edition]),
  );
  const deviations = await look.deviations.ofStudy(study.id);
  const taps = tapsByRun(await look.taps.ofStudy(study.id));
  const about = runs.map((run) => {
    const edition = editions.get(run.run.edition) ?? { steps: [] };
    const own = taps.get(run.run.id) ?? [];
    return {
      run,
      sheet: runSheet(edition, run.run, deviations, own),
      steps: stepsMeasured(edition, run.run, deviations, own),
    };
  });
  const dishes = about.flatMap(({ run, steps }) => dishOf(run, steps));
  const benched = about.map(({ run, sheet, steps }): BenchRun => {
    const uncovered = uncoveredSum(sheet.steps);
    return {
      run,
      sheet,
      steps,
      uncovered,
      fell: deposition(uncovered.minutes, run.run.session, dishes, study.question.decision.confidence),
      balance: run.balance,
    };
  });
  return { runs: benched, dishes };
}

/** A dish stands open for the minutes of its uncovered step, or for the minutes that its steps stood uncovered. */
function dishOf(run: CountedRun, steps: readonly Step[]): readonly OpenDish[] {
  if (run.run.kind !== 'air-control') return [];
  const open = steps.filter((step) => step.kind === 'uncover' && step.quantities.minutes !== undefined);
  const minutes = open.map((step) => step.quantities.minutes!);
  const otherwise = steps.flatMap((step) => step.minutesUncovered ?? []);
  const said = minutes.length > 0 ? minutes : otherwise;
  return [
    {
      name: run.run.name,
      session: run.run.session,
      count: run.count,
      examined: run.examined,
      minutesOpen: said.length > 0 ? said.reduce((a, b) => a + b, 0) : null,
    },
  ];
}
