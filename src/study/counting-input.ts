/** From counted runs to what the counting engine takes: which runs, which controls, and what had to be left out. */
import type { CountedControl, CountedPortion, CountingInput } from '../science/counting/index.ts';
import type { ControlKind } from './records/run.ts';
import type { Portion, Specimen, SpecimenId } from './records/specimen.ts';
import type { RunCount } from './run-count.ts';

/** Something a reader must know about the input, and where it is mended. */
export interface InputNote {
  readonly why:
    | 'not-looked'
    | 'liquid-not-recorded'
    | 'not-marked'
    | 'part-not-passed'
    | 'photographs-overlap'
    | 'no-matching-control'
    | 'no-recovery'
    | 'sizes-cut'
    | 'control-does-not-match';
  readonly message: string;
  readonly place: 'question' | 'procedure' | 'runs' | 'filters' | 'evidence';
  readonly run: string | null;
}

export interface StudyInput {
  readonly input: CountingInput;
  /** Which kind of control gave the background; null: there was none. */
  readonly background: ControlKind | null;
  readonly notes: readonly InputNote[];
}

export type RunForInput = RunCount & {
  readonly portion: Portion | null;
  readonly specimen: Specimen | null;
  readonly recovered: number | null;
};

/** The control that shares most with a specimen run comes first: it holds everything but the product. */
export const BACKGROUND_KINDS: readonly ControlKind[] = ['act-control', 'matrix-blank', 'procedural-blank'];

const usable = (run: RunForInput): run is RunForInput & { count: number; examined: number } =>
  run.count !== null && run.examined !== null && run.examined > 0 && run.passed !== 0;

const asControl = (run: RunForInput & { count: number; examined: number }): CountedControl => ({
  name: run.run.name,
  kind: run.run.kind,
  count: run.count,
  passed: run.passed ?? 1,
  examined: run.examined,
  candidates: run.kept + run.unmarked + run.dropped,
});

/** The counting input of one specimen. Spiked runs give the recovery, never the background. */
export function studyInput(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
): StudyInput {
  const notes: InputNote[] = [];
  const mine = runs.filter((run) => run.run.kind === 'specimen' && run.specimen?.id === specimen);
  const kind =
    BACKGROUND_KINDS.find((wanted) => runs.some((run) => run.run.kind === wanted && usable(run))) ?? null;
  const controls = runs.filter((run) => run.run.kind === kind);
  const spiked = runs.filter((run) => run.run.kind === 'spiked-run');
  for (const run of [...mine, ...controls, ...spiked]) notes.push(...notesOf(run));
  if (kind === null) {
    notes.push({
      why: 'no-matching-control',
      message:
        'No control that went the way of the runs has been counted: do the same act without the product, three times at least.',
      place: 'runs',
      run: null,
    });
  }
  const counted = spiked.filter(usable).filter((run) => run.recovered !== null);
  if (counted.length === 0) {
    notes.push({
      why: 'no-recovery',
      message:
        'How many particles are lost on the way is not measured: add known pieces to three runs and count them.',
      place: 'runs',
      run: null,
    });
  }
  const portions = mine.filter(usable).flatMap((run): CountedPortion[] =>
    run.portion === null
      ? []
      : [
          {
            name: run.run.name,
            count: run.count,
            massG: run.portion.massG,
            passed: run.passed ?? 1,
            examined: run.examined,
            candidates: run.kept + run.unmarked + run.dropped,
          },
        ],
  );
  return {
    background: kind,
    notes,
    input: {
      portions,
      controls: controls.filter(usable).map(asControl),
      recovery:
        counted.length === 0
          ? null
          : {
              found: counted.reduce((sum, run) => sum + run.recovered!, 0),
              added: counted.reduce((sum, run) => sum + run.run.spike!.added, 0),
            },
      // one by one they tell how recovery scatters; a run with more found than added only counts in the sum
      ...(counted.length > 0 && counted.every((run) => run.recovered! <= run.run.spike!.added)
        ? { spikes: counted.map((run) => ({ found: run.recovered!, added: run.run.spike!.added })) }
        : {}),
      drill: null,
      confidence,
    },
  };
}

function notesOf(run: RunForInput): InputNote[] {
  const { name, id } = run.run;
  const note = (why: InputNote['why'], place: InputNote['place'], message: string): InputNote => ({
    why,
    message,
    place,
    run: id,
  });
  if (run.count === null) {
    return [
      note(
        'not-looked',
        'filters',
        `Nothing of run ${name} was looked at: bring in photographs of its filter.`,
      ),
    ];
  }
  const notes: InputNote[] = [];
  if (run.passed === null) {
    notes.push(
      note(
        'liquid-not-recorded',
        'runs',
        `How much of run ${name} passed the filter is not recorded; all of it is taken to have passed.`,
      ),
    );
  } else if (run.passed < 0.95) {
    const share = Math.round(100 * run.passed);
    notes.push(
      note(
        'part-not-passed',
        'runs',
        `Only ${share} % of run ${name} is on filters that were looked at; the rest was not measured.`,
      ),
    );
  }
  if (run.unmarked > 0) {
    notes.push(
      note(
        'not-marked',
        'filters',
        `${run.unmarked} particles of run ${name} were found by the program and looked at by nobody yet.`,
      ),
    );
  }
  if (run.overlap) {
    notes.push(
      note(
        'photographs-overlap',
        'filters',
        `The photographs of run ${name} overlap: pieces may be counted twice.`,
      ),
    );
  }
  return notes;
}
