import {
  type ControlKind,
  type ControlSteps,
  type Covered,
  coverRun,
  gapSentence,
  type InputNote,
  type Run,
  type RunId,
  stepsAsDone,
} from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';
import type { Look } from './ports.ts';

/** Controls that speak for a background; spiked runs and known material carry particles on purpose. */
const SILENT: readonly Run['kind'][] = ['specimen', 'spiked-run', 'known-material'];

/** Every specimen run against every control, step by step, deviations included. Runs that did the same are compared once. */
export async function coverStudy(look: Look, counted: CountedStudy): Promise<ReadonlyMap<RunId, Covered>> {
  const { study, runs } = counted;
  const editions = new Map((await look.editions.ofStudy(study.id)).map((edition) => [edition.id, edition]));
  const deviations = await look.deviations.ofStudy(study.id);
  const stepsOf = (run: Run) => {
    const mine = deviations.filter((deviation) => deviation.runs.includes(run.id));
    const edition = editions.get(run.edition);
    return {
      did: [run.edition, ...mine.map((deviation) => deviation.id)].join(' '),
      steps: edition ? stepsAsDone(edition, run, mine) : [],
    };
  };
  const controls = new Map<string, ControlSteps>();
  for (const { run } of runs) {
    if (SILENT.includes(run.kind)) continue;
    const { did, steps } = stepsOf(run);
    if (!controls.has(did)) {
      controls.set(did, { run: run.id, name: run.name, kind: run.kind as ControlKind, steps });
    }
  }
  const known = new Map<string, Covered>();
  const covered = new Map<RunId, Covered>();
  for (const { run, specimen } of runs) {
    if (run.kind !== 'specimen') continue;
    const { did, steps } = stepsOf(run);
    const key = `${did} on ${specimen?.name ?? ''}`;
    const found = known.get(key) ?? coverRun(steps, [...controls.values()], specimen ? [specimen.name] : []);
    known.set(key, found);
    covered.set(run.id, found);
  }
  return covered;
}

/** One line a run for what no control repeats; what is only not recorded is left to the procedure's own page. */
export function coverageNotes(counted: CountedStudy, covered: ReadonlyMap<RunId, Covered>): InputNote[] {
  // Without any control there is one line for the whole study already.
  if (!counted.runs.some(({ run }) => !SILENT.includes(run.kind))) return [];
  return counted.runs.flatMap(({ run }) => {
    const gaps = (covered.get(run.id)?.gaps ?? []).filter((gap) => gap.grade !== 'unknown');
    if (gaps.length === 0) return [];
    const more = gaps.length > 1 ? ` ${gaps.length - 1} more of its things are repeated by no control.` : '';
    return [
      {
        why: 'control-does-not-match' as const,
        message: gapSentence(run.name, gaps[0]!) + more,
        place: 'procedure' as const,
        run: run.id,
      },
    ];
  });
}
