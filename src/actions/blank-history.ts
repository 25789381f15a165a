/** Controls of the laboratory's other studies: they tell how much controls scatter in these hands. */
import { BACKGROUND_KINDS, countRun, type FilterId, type Study } from '../study/index.ts';
import type { FilterCount, Scope } from './ledgers.ts';
import type { Look } from './ports.ts';

/** Controls of one kind that one study made by one edition. */
export interface BlankBatch {
  readonly study: string;
  readonly kind: string;
  readonly runs: readonly {
    readonly name: string;
    readonly count: number;
    readonly passed: number;
    readonly examined: number;
  }[];
}

/** Batches of two controls and more that were looked at, counted in the sizes asked here. Invented studies count only for invented ones. */
export async function blankHistory(look: Look, study: Study, scope: Scope): Promise<readonly BlankBatch[]> {
  const batches: BlankBatch[] = [];
  for (const other of await look.studies.list()) {
    if (other.id === study.id || other.invented !== study.invented) continue;
    const counts: ReadonlyMap<FilterId, FilterCount> = new Map(
      (await look.counts.ofStudy(other.id, scope)).map((count) => [count.filter, count]),
    );
    const filters = await look.filters.ofStudy(other.id);
    const fractions = await look.fractions.ofStudy(other.id);
    const groups = new Map<string, { kind: string; runs: BlankBatch['runs'][number][] }>();
    for (const run of await look.runs.ofStudy(other.id)) {
      if (!BACKGROUND_KINDS.some((kind) => kind === run.kind)) continue;
      const seen = countRun(
        run,
        filters.filter((filter) => filter.run === run.id),
        counts,
        fractions.filter((fraction) => fraction.run === run.id),
      );
      if (seen.count === null || seen.examined === null || !(seen.examined > 0) || seen.passed === 0)
        continue;
      const key = `${run.kind} ${run.edition}`;
      const group = groups.get(key) ?? { kind: run.kind, runs: [] };
      group.runs.push({
        name: run.name,
        count: seen.count,
        passed: seen.passed ?? 1,
        examined: seen.examined,
      });
      groups.set(key, group);
    }
    for (const { kind, runs } of groups.values()) {
      if (runs.length > 1) batches.push({ study: other.name, kind, runs });
    }
  }
  return batches;
}
