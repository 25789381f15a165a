import {
  type Balance,
  balance,
  type Edition,
  type Run,
  type RunFraction,
  type RunId,
  type StudyId,
  soundTaps,
  standingTaps,
  stepsMeasured,
  type Tap,
  tapsByRun,
} from '../study/index.ts';
import type { Look } from './ports.ts';

export interface Liquids {
  /**
   * What was measured as poured on the filters of a run, mL. Only what somebody measured at the bench: the volume that an
   * edition plans is no measurement.
   */
  readonly poured: ReadonlyMap<RunId, number>;
  /** Where the liquid of each run went, by its steps as done and measured. */
  readonly balances: ReadonlyMap<RunId, Balance>;
}

/** The liquid of every run of a study. */
export async function liquidsOf(
  look: Look,
  study: StudyId,
  runs: readonly Run[],
  fractions: ReadonlyMap<RunId, readonly RunFraction[]>,
): Promise<Liquids> {
  const taps = tapsByRun(await look.taps.ofStudy(study));
  const editions = await look.editions.ofStudy(study);
  const deviations = await look.deviations.ofStudy(study);
  const ofEdition = new Map(editions.map((edition) => [edition.id, edition]));
  const balances = new Map(
    runs.map((run) => {
      const edition = ofEdition.get(run.edition) ?? { steps: [] };
      const steps = stepsMeasured(edition, run, deviations, taps.get(run.id) ?? []);
      return [run.id, balance(steps, fractions.get(run.id) ?? [])];
    }),
  );
  return { poured: pouredOf(taps, runs, editions), balances };
}

function pouredOf(
  taps: ReadonlyMap<RunId, readonly Tap[]>,
  ofStudy: readonly Run[],
  editions: readonly Edition[],
): ReadonlyMap<RunId, number> {
  const runs = new Map(ofStudy.map((run) => [run.id, run.edition]));
  const filtering = new Map(
    editions.map((edition) => [edition.id, edition.steps.filter((step) => step.kind === 'filter')]),
  );
  const poured = new Map<RunId, number>();
  for (const [run, own] of taps) {
    const steps = filtering.get(runs.get(run)!) ?? [];
    const keys = new Set(steps.map(({ key }) => key));
    const latest = new Map<string, number>();
    for (const { deed } of soundTaps(standingTaps(own), steps).sound) {
      if (deed.do === 'finish' && keys.has(deed.step) && deed.quantities.volume_ml !== undefined) {
        latest.set(deed.step, deed.quantities.volume_ml);
      }
    }
    if (latest.size > 0)
      poured.set(
        run,
        [...latest.values()].reduce((a, b) => a + b, 0),
      );
  }
  return poured;
}
