import {
  type Balance,
  bordersBetween,
  type Covered,
  countRun,
  type Filter,
  type FilterId,
  type MeasuredCompleteness,
  type Portion,
  type Run,
  type RunBackground,
  type RunCount,
  type RunFraction,
  type RunId,
  type RunRecovery,
  type Specimen,
  type Study,
  type WithdrawnRun,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type BlankBatch, blankHistory } from './blank-history.ts';
import { coverStudy } from './cover-study.ts';
import { asId, known } from './known.ts';
import type { FilterCount, Scope } from './ledgers.ts';
import type { Look, Tools } from './ports.ts';
import { liquidsOf } from './poured.ts';
import { evidenceOf, type WeighedEvidence, weighEvidence } from './weigh-evidence.ts';
import { withdrawnRunsOf } from './withdrawn-runs.ts';

/** A run with what it counts, and what it was done on. */
export interface CountedRun extends RunCount {
  readonly portion: Portion | null;
  readonly specimen: Specimen | null;
  readonly filters: readonly Filter[];
  readonly fractions: readonly RunFraction[];
  /** Where its liquid went. */
  readonly balance: Balance;
  /** Known pieces found again, of a spiked run that was looked at. */
  readonly recovered: number | null;
  /** Of a specimen run: the controls that may serve as its background. */
  readonly background: RunBackground | null;
  /** Of a specimen run: the spiked runs that tell what is lost of it; null: there is none. */
  readonly recovery: RunRecovery | null;
  /** Counted pieces by the known size that they are nearest to; empty where fewer than two sizes were put in. */
  readonly nearSpike: ReadonlyMap<number, number>;
}

export interface CountedStudy {
  readonly study: Study;
  readonly specimens: readonly Specimen[];
  readonly runs: readonly CountedRun[];
  /** Runs that are recorded and count nowhere. */
  readonly withdrawn: readonly WithdrawnRun[];
  /** Every specimen run against every control, step by step. */
  readonly covered: ReadonlyMap<RunId, Covered>;
  readonly filterCounts: ReadonlyMap<FilterId, FilterCount>;
  /** What drills, tests of a random part and blinded rounds say of the pieces counted on a specimen. */
  evidenceFor(specimen: Specimen): WeighedEvidence;
  /** How small a piece the study's own controls still show; null: nobody measured it. */
  readonly completeness: MeasuredCompleteness | null;
  /** Sizes counted from here on: the question's, or the coarsest floor of any run where that is higher. */
  readonly sizeFromUm: number;
  /** Sizes of the known pieces that were put in; pieces are sorted by the nearest. */
  readonly spikedUm: readonly number[];
  /** Controls of the laboratory's earlier studies, counted in the same sizes. */
  readonly history: readonly BlankBatch[];
}

const grouped = <T, K>(records: readonly T[], key: (record: T) => K): ReadonlyMap<K, T[]> => {
  const groups = new Map<K, T[]>();
  for (const record of records) {
    const group = groups.get(key(record));
    if (group) group.push(record);
    else groups.set(key(record), [record]);
  }
  return groups;
};

const byFilter = (counts: readonly FilterCount[]) => new Map(counts.map((count) => [count.filter, count]));

/** Runs are compared over sizes that every one of them could show: from the question's, or the coarsest floor above it. */
const sizeFrom = (study: Study, floorUm: number | null): number =>
  Math.max(study.question.sizeFromUm, floorUm ?? 0);

/** What decides whether a piece is counted; costs one question, where `countStudy` reads the whole study. */
export const countedSizes = async (
  look: Look,
  study: Study,
): Promise<Pick<CountedStudy, 'study' | 'sizeFromUm'>> => ({
  study,
  sizeFromUm: sizeFrom(study, await look.counts.floorOfStudy(study.id)),
});

/** All runs of a study with their counts, each against the same sizes. */
export async function countStudy(look: Look, study: Study): Promise<CountedStudy> {
  const { question } = study;
  const runs = await look.runs.ofStudy(study.id);
  const filters = grouped(await look.filters.ofStudy(study.id), (filter) => filter.run);
  const fractions = grouped(await look.fractions.ofStudy(study.id), (fraction) => fraction.run);
  const portions = new Map((await look.portions.ofStudy(study.id)).map((portion) => [portion.id, portion]));
  const specimens = await look.specimens.ofStudy(study.id);

  const { sizeFromUm } = await countedSizes(look, study);
  const scope: Scope = {
    sizeFromUm,
    sizeToUm: question.sizeToUm,
    shapes: question.shapes,
    colours: question.colours,
  };
  const seen = byFilter(await look.counts.ofStudy(study.id, scope));
  const onWhat = runs.map((run) => {
    const portion = run.portion === null ? null : (portions.get(run.portion) ?? null);
    const specimen = specimens.find((one) => one.id === portion?.specimen) ?? null;
    return { run, portion, specimen, poresUm: (filters.get(run.id) ?? []).map(({ poreUm }) => poreUm) };
  });
  const spikedUm = [...new Set(runs.flatMap((run) => run.spike?.sizeUm ?? []))].sort((a, b) => a - b);
  const nearSpike = await nearSpikeOf(look, study, spikedUm, scope);
  const evidence = await evidenceOf(look, study);
  const weighed = new Map<string, WeighedEvidence>();
  const { poured, balances } = await liquidsOf(look, study.id, runs, fractions);
  const { covered, recovery } = await coverStudy(look, study.id, onWhat);
  const recovered = await recoveredOf(look, runs, filters, scope);
  return {
    study,
    specimens,
    covered,
    withdrawn: await withdrawnRunsOf(look, study.id),
    filterCounts: seen,
    evidenceFor(specimen) {
      const before = weighed.get(specimen.id);
      const now = before ?? weighEvidence(evidence, specimen);
      weighed.set(specimen.id, now);
      return now;
    },
    completeness: await look.completeness.newest(study.id),
    sizeFromUm,
    spikedUm,
    history: await blankHistory(look, study, scope),
    runs: onWhat.map(({ run, portion, specimen }) => {
      const ofRun = filters.get(run.id) ?? [];
      const liquids = fractions.get(run.id) ?? [];
      return {
        ...countRun(run, ofRun, seen, liquids, poured.get(run.id) ?? null),
        portion,
        specimen,
        filters: ofRun,
        fractions: liquids,
        balance: balances.get(run.id)!,
        recovered: recovered.get(run.id) ?? null,
        background: covered.get(run.id)?.background ?? null,
        recovery: recovery.get(run.id) ?? null,
        nearSpike: nearSpike.get(run.id) ?? new Map(),
      };
    }),
  };
}

/** Counted pieces of each run by the spiked size that they are nearest to; nothing where fewer than two sizes were put in. */
async function nearSpikeOf(
  look: Look,
  study: Study,
  sizesUm: readonly number[],
  scope: Scope,
): Promise<ReadonlyMap<RunId, Map<number, number>>> {
  const found = new Map<RunId, Map<number, number>>();
  if (sizesUm.length < 2) return found;
  const borders = bordersBetween(sizesUm);
  for (const [at, size] of sizesUm.entries()) {
    const from = Math.max(scope.sizeFromUm, borders[at - 1] ?? 0);
    const to = Math.min(scope.sizeToUm ?? Infinity, borders[at] ?? Infinity);
    const within =
      from < to
        ? await look.counts.ofStudy(study.id, {
            ...scope,
            sizeFromUm: from,
            sizeToUm: to < Infinity ? to : null,
          })
        : [];
    for (const { run, count } of within) {
      const own = found.get(run) ?? new Map<number, number>();
      own.set(size, (own.get(size) ?? 0) + (count ?? 0));
      found.set(run, own);
    }
  }
  return found;
}

/** Known pieces found again: those of the spike's own colour, whatever shapes and colours the question counts. */
async function recoveredOf(
  look: Look,
  runs: readonly Run[],
  filters: ReadonlyMap<RunId, readonly Filter[]>,
  scope: Scope,
): Promise<ReadonlyMap<RunId, number>> {
  const found = new Map<RunId, number>();
  const spiked = grouped(
    runs.filter((run) => run.kind === 'spiked-run' && run.spike !== null),
    (run) => run.spike!.colour,
  );
  for (const [colour, ofColour] of spiked) {
    const ofPieces = { ...scope, shapes: [], colours: [colour] };
    const asked = ofColour.map((run) => run.id);
    const counts = byFilter(await look.counts.ofRuns(asked, ofPieces));
    for (const run of ofColour) {
      const seen = (filters.get(run.id) ?? []).flatMap((filter) => counts.get(filter.id)?.count ?? []);
      if (seen.length > 0)
        found.set(
          run.id,
          seen.reduce((a, b) => a + b, 0),
        );
    }
  }
  return found;
}

export const countRuns = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string },
): Promise<Outcome<CountedStudy>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    return study.ok ? done(await countStudy(look, study.value)) : study;
  });
