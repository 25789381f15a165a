import { type RunId, type StudyId, soundTaps, standingTaps, tapsByRun } from '../study/index.ts';
import type { Look } from './ports.ts';

/**
 * What was measured as poured on the filters of each run, mL. Only what somebody measured at the bench: the volume that an
 * edition plans is no measurement.
 */
export async function pouredOf(look: Look, study: StudyId): Promise<ReadonlyMap<RunId, number>> {
  const taps = await look.taps.ofStudy(study);
  if (taps.length === 0) return new Map();
  const runs = new Map((await look.runs.ofStudy(study)).map((run) => [run.id, run.edition]));
  const filtering = new Map(
    (await look.editions.ofStudy(study)).map((edition) => [
      edition.id,
      edition.steps.filter((step) => step.kind === 'filter'),
    ]),
  );
  const poured = new Map<RunId, number>();
  for (const [run, own] of tapsByRun(taps)) {
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
