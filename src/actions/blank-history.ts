/** Controls of the laboratory's earlier studies: they tell how much controls scatter in these hands. */
import {
  BACKGROUND_KINDS,
  countRun,
  type FilterId,
  type Run,
  type RunKind,
  type Study,
} from '../study/index.ts';
import type { FilterCount, Scope } from './ledgers.ts';
import type { Look } from './ports.ts';

/** Controls of one kind that one study made by one edition. */
export interface BlankBatch {
  readonly study: string;
  readonly kind: RunKind;
  readonly runs: readonly {
    readonly name: string;
    readonly count: number;
    readonly passed: number;
    readonly examined: number;
  }[];
}

/** Studies and control runs that are looked back at, the newest first. More hardly tell more. Project choice. */
const MOST_STUDIES = 6;
const MOST_RUNS = 60;

/**
 * Batches of two controls and more that were looked at, counted in the sizes asked here. Only studies that were begun before
 * this one speak, so that a claim does not move by what is done later; invented studies count only for invented ones.
 */
export async function blankHistory(look: Look, study: Study, scope: Scope): Promise<readonly BlankBatch[]> {
  const earlier = (await look.studies.list())
    .filter((other) => other.id !== study.id && other.invented === study.invented)
    .filter((other) => other.madeAt < study.madeAt)
    .sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1));
  const controls: { readonly study: Study; readonly run: Run }[] = [];
  for (const other of earlier.slice(0, MOST_STUDIES)) {
    const runs = await look.runs.ofStudy(other.id);
    for (const run of runs)
      if (BACKGROUND_KINDS.some((kind) => kind === run.kind) && controls.length < MOST_RUNS)
        controls.push({ study: other, run });
  }
  if (controls.length === 0) return [];
  const counts: ReadonlyMap<FilterId, FilterCount> = new Map(
    (
      await look.counts.ofRuns(
        controls.map(({ run }) => run.id),
        scope,
      )
    ).map((count) => [count.filter, count]),
  );
  const groups = new Map<string, { study: string; kind: RunKind; runs: BlankBatch['runs'][number][] }>();
  for (const other of new Set(controls.map((one) => one.study))) {
    const filters = await look.filters.ofStudy(other.id);
    const fractions = await look.fractions.ofStudy(other.id);
    for (const { run } of controls.filter((one) => one.study === other)) {
      const seen = countRun(
        run,
        filters.filter((filter) => filter.run === run.id),
        counts,
        fractions.filter((fraction) => fraction.run === run.id),
      );
      if (seen.count === null || !seen.examined || seen.passed === 0) continue;
      const key = `${other.id} ${run.kind} ${run.edition}`;
      const group = groups.get(key) ?? { study: other.name, kind: run.kind, runs: [] };
      group.runs.push({
        name: run.name,
        count: seen.count,
        passed: seen.passed ?? 1,
        examined: seen.examined,
      });
      groups.set(key, group);
    }
  }
  return [...groups.values()].filter(({ runs }) => runs.length > 1);
}
