import {
  type Edition,
  runSheet,
  type Step,
  type Study,
  stepsInForce,
  stepsMeasured,
  tapsByRun,
} from '../study/index.ts';
import type { Look } from './ports.ts';

/** The steps that safety is judged by: newest editions, and runs as they are done until they are ended or photographed. */
export async function stepsInForceOf(look: Look, study: Study['id']): Promise<readonly Step[]> {
  const editions = await look.editions.ofStudy(study);
  const ofEdition = new Map<string, Edition>(editions.map((edition) => [edition.id, edition]));
  const deviations = await look.deviations.ofStudy(study);
  const taps = tapsByRun(await look.taps.ofStudy(study));
  const photographed = new Set((await look.photos.ofStudy(study)).map(({ filter }) => filter));
  const over = new Set(
    (await look.filters.ofStudy(study)).filter(({ id }) => photographed.has(id)).map(({ run }) => run),
  );
  const open = (await look.runs.ofStudy(study)).flatMap((run) => {
    const edition = ofEdition.get(run.edition);
    const own = taps.get(run.id) ?? [];
    if (!edition || over.has(run.id)) return [];
    return runSheet(edition, run, deviations, own).state === 'done'
      ? []
      : [stepsMeasured(edition, run, deviations, own)];
  });
  return stepsInForce(editions, open);
}
