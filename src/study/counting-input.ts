/** From counted runs to what the counting engine takes: which runs, which controls, and what had to be left out. */
import type { CountedControl, CountedPortion, CountingInput } from '../science/counting/index.ts';
import type { Balance } from './bench-record/balance.ts';
import { mendSentence, type RunBackground, type RunRecovery, type Serving } from './coverage/index.ts';
import { fewOf } from './few-of.ts';
import { BACKGROUND_KINDS, type ControlKind, type RunId } from './records/run.ts';
import type { Portion, Specimen, SpecimenId } from './records/specimen.ts';
import { recoveryInput, recoveryNotes, spikesFor } from './recovery-of-runs.ts';
import type { RunCount } from './run-count.ts';
import { notesOf, volumesCannotBe, volumesSentence } from './run-notes.ts';

/** Something a reader must know about the input, and where it is mended. */
export interface InputNote {
  readonly why:
    | 'not-looked'
    | 'liquid-not-recorded'
    | 'not-marked'
    | 'part-not-passed'
    | 'volumes-do-not-agree'
    | 'photographs-overlap'
    | 'no-matching-control'
    | 'no-recovery'
    | 'spike-does-not-match'
    | 'spike-in-doubt'
    | 'size-never-recovered'
    | 'sizes-cut'
    | 'withdrawn-after-count'
    | 'sizes-seldom-found'
    | 'control-does-not-match'
    | 'controls-out-of-balance'
    | 'control-scaled'
    | 'control-not-recorded'
    | 'drill-too-small'
    | 'controls-not-tested'
    | 'share-cannot-be-stated'
    | 'share-pooled'
    | 'pieces-undecided';
  readonly message: string;
  readonly place: 'question' | 'procedure' | 'runs' | 'filters' | 'evidence';
  readonly run: string | null;
}

export interface StudyInput {
  readonly input: CountingInput;
  /** Which kind of control gave the background; null: there was none. */
  readonly background: ControlKind | null;
  /** The control runs that give it. */
  readonly serving: readonly RunId[];
  /** The spiked runs that tell what is lost of the runs. */
  readonly spikes: readonly RunId[];
  /** Specimen runs that no control matches, or whose volumes cannot be: they are recorded and shown, and not judged. */
  readonly leftOut: readonly RunId[];
  /** Of all runs, controls too: those whose volumes cannot be, each with its sentence. */
  readonly heldOut: readonly { readonly run: RunId; readonly name: string; readonly message: string }[];
  readonly notes: readonly InputNote[];
}

export type RunForInput = RunCount & {
  readonly portion: Portion | null;
  readonly specimen: Specimen | null;
  readonly recovered: number | null;
  /** Of a specimen run: which controls may serve as its background. Left out where no procedure is on record: all may. */
  readonly background?: RunBackground | null;
  /** Of a specimen run: which spiked runs tell what is lost of it. Left out where no procedure is on record: all do. */
  readonly recovery?: RunRecovery | null;
  /** Counted pieces by the known size that they are nearest to, where known pieces of several sizes were put in. */
  readonly nearSpike?: ReadonlyMap<number, number>;
  /** Where its liquid went; left out where no procedure is on record. */
  readonly balance?: Balance;
};

/** Controls of one kind that an earlier study made by one edition. */
export interface EarlierControls {
  readonly kind: string;
  readonly runs: readonly Pick<CountedControl, 'count' | 'passed' | 'examined'>[];
}

const usable = (run: RunForInput): run is RunForInput & { count: number; examined: number } =>
  run.count !== null &&
  run.examined !== null &&
  run.examined > 0 &&
  run.passed !== 0 &&
  !volumesCannotBe(run);

type Usable = RunForInput & { count: number; examined: number };

/** Runs that did the same share one background, and each is asked about every control: its controls are listed once. */
const controlsBy = new WeakMap<RunBackground, ReadonlyMap<RunId, Serving>>();

function servingOf({ background }: RunForInput, control: RunForInput): Pick<Serving, 'scale'> | undefined {
  if (background === undefined || background === null) return { scale: 1 };
  let listed = controlsBy.get(background);
  if (!listed) {
    listed = new Map(background.serving.map((one) => [one.control, one]));
    controlsBy.set(background, listed);
  }
  return listed.get(control.run.id);
}

/** Whether a kind of control may serve as background for any run of the specimen. */
export const servesAny = (runs: readonly RunForInput[], specimen: SpecimenId, kind: ControlKind): boolean =>
  runs.some(
    (run) =>
      run.run.kind === 'specimen' &&
      run.specimen?.id === specimen &&
      runs.some((control) => control.run.kind === kind && servingOf(run, control) !== undefined),
  );

/**
 * A control that had less of what brings particles stands for a part of one run's background: half the reagent, half the
 * background. That part is carried in its effort, like a filter of which half was examined.
 */
const asControl = (run: Usable, scale: number): CountedControl => ({
  name: run.run.name,
  kind: run.run.kind,
  count: run.count,
  passed: run.passed ?? 1,
  examined: run.examined / scale,
  candidates: run.kept + run.unmarked + run.dropped,
  ...unsure(run),
});

const unsure = ({ extent }: RunForInput): { effortUncertainty?: number } =>
  extent && extent.together > 0 ? { effortUncertainty: extent.together } : {};

/**
 * The counting input of one specimen. Spiked runs give the recovery, never the background; earlier controls of the kind that
 * gives the background tell how much it scatters.
 */
export function studyInput(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
  earlier: readonly EarlierControls[] = [],
): StudyInput {
  const notes: InputNote[] = [];
  const mine = runs.filter((run) => run.run.kind === 'specimen' && run.specimen?.id === specimen);
  const { kind, controls, matched } = matching(runs, mine);
  const spiked = runs.filter((run) => run.run.kind === 'spiked-run');
  const unmatched = kind === null ? [] : mine.filter((run) => !matched.includes(run));
  const heldOut = [...mine, ...controlsToTellOf(runs, mine, kind), ...spiked].filter(volumesCannotBe);
  for (const run of [...matched, ...controlsToTellOf(runs, mine, kind), ...spiked]) {
    notes.push(...notesOf(run));
  }
  notes.push(...comparisonNotes(kind === null ? mine : unmatched, matched, controls));
  if (kind === null) {
    const there = runs.some((run) => BACKGROUND_KINDS.some((one) => one === run.run.kind) && usable(run));
    notes.push({
      why: 'no-matching-control',
      message: there
        ? 'No control repeats the steps of the runs: what they counted cannot stand for the background. The lines on each run say what to do.'
        : 'No control that went the way of the runs has been counted: do the same act without the product, three times at least.',
      place: 'runs',
      run: null,
    });
  }
  const judged = kind === null ? mine : matched;
  const spikes = spikesFor(runs, judged).filter(usable);
  notes.push(
    ...recoveryNotes(
      runs.filter((run) => !volumesCannotBe(run)),
      judged,
      spikes,
    ),
  );
  const portions = judged.filter(usable).flatMap((run): CountedPortion[] =>
    run.portion === null
      ? []
      : [
          {
            name: run.run.name,
            count: run.count,
            massG: run.portion.massG,
            ...(run.portion.pieces === null ? {} : { pieces: run.portion.pieces }),
            passed: run.passed ?? 1,
            examined: run.examined,
            candidates: run.kept + run.unmarked + run.dropped,
            ...unsure(run),
          },
        ],
  );
  const history = earlier.filter((batch) => batch.kind === kind).map((batch) => batch.runs);
  return {
    background: kind,
    serving: controls.map(({ control }) => control.run.id),
    spikes: spikes.map(({ run }) => run.id),
    leftOut: mine.filter((run) => unmatched.includes(run) || volumesCannotBe(run)).map((run) => run.run.id),
    heldOut: heldOut.map((run) => ({ run: run.run.id, name: run.run.name, message: volumesSentence(run) })),
    notes,
    input: {
      portions,
      controls: controls.map(({ control, scale }) => asControl(control, scale)),
      ...recoveryInput(
        spikes,
        judged.filter(usable),
        controls.map(({ control }) => control),
      ),
      ...(history.length > 0 ? { history } : {}),
      drill: null,
      confidence,
    },
  };
}

interface Served {
  readonly control: Usable;
  /** Mean over the runs that it serves. */
  readonly scale: number;
  /** The specimen runs that it serves. */
  readonly serves: ReadonlySet<RunForInput>;
}

/** The kind of control to judge against, its runs that serve, and the specimen runs that they serve. */
function matching(
  runs: readonly RunForInput[],
  mine: readonly RunForInput[],
): {
  readonly kind: ControlKind | null;
  readonly controls: readonly Served[];
  readonly matched: readonly RunForInput[];
} {
  for (const kind of BACKGROUND_KINDS) {
    const controls = runs
      .filter((run) => run.run.kind === kind)
      .filter(usable)
      .flatMap((control): Served[] => {
        const serves = new Set<RunForInput>();
        let scales = 0;
        for (const run of mine) {
          const serving = servingOf(run, control);
          if (!serving) continue;
          serves.add(run);
          scales += serving.scale;
        }
        // Without a specimen run to speak of, every control of the kind is shown.
        if (serves.size === 0 && mine.length > 0) return [];
        return [{ control, scale: serves.size === 0 ? 1 : scales / serves.size, serves }];
      });
    if (controls.length > 0) {
      return {
        kind,
        controls,
        matched: mine.filter((run) => controls.some(({ serves }) => serves.has(run))),
      };
    }
  }
  return { kind: null, controls: [], matched: [] };
}

/** Controls of the kind that would serve, looked at or not. */
const controlsToTellOf = (
  runs: readonly RunForInput[],
  mine: readonly RunForInput[],
  kind: ControlKind | null,
): readonly RunForInput[] =>
  runs.filter(
    (control) =>
      control.run.kind === kind &&
      (mine.length === 0 || mine.some((run) => servingOf(run, control) !== undefined)),
  );

/** Shares of runs may differ so much from shares of controls before the pooled background is said to be askew. Common practice, no source. */
const OUT_OF_BALANCE = 2;

/** One line for all runs that the same control would take in again. */
function leftOutNotes(leftOut: readonly RunForInput[]): InputNote[] {
  const groups = new Map<string, RunForInput[]>();
  for (const run of leftOut) {
    // Where there is no control at all, one line for the whole study says so already.
    if (!run.background || (run.background.serving.length === 0 && run.background.nearest === null)) continue;
    const waits = run.background.serving.length > 0;
    const key = waits ? `waits ${run.run.id}` : JSON.stringify([run.specimen?.id, run.background.nearest]);
    groups.set(key, [...(groups.get(key) ?? []), run]);
  }
  return [...groups.values()].map((runs) => {
    const [first] = runs;
    const names = runs.map(({ run }) => run.name);
    const message =
      first!.background!.serving.length > 0
        ? `Run ${names[0]} waits: no control that went its way has been counted yet.`
        : mendSentence(names, first!.background!);
    return { why: 'control-does-not-match', message, place: 'procedure', run: first!.run.id };
  });
}

/** What the comparison of runs with controls leaves to say: runs left out, groups out of balance, what was scaled or not recorded. */
function comparisonNotes(
  leftOut: readonly RunForInput[],
  matched: readonly RunForInput[],
  controls: readonly Served[],
): InputNote[] {
  const notes = leftOutNotes(leftOut);
  const groups = new Map<string, { runs: RunForInput[]; controls: Served[] }>();
  for (const run of matched) {
    const own = controls.filter(({ serves }) => serves.has(run));
    const key = own.map(({ control }) => control.run.id).join(' ');
    const group = groups.get(key) ?? { runs: [], controls: own };
    group.runs.push(run);
    groups.set(key, group);
  }
  for (const group of groups.values()) {
    const ofRuns = group.runs.length / matched.length;
    const ofControls = group.controls.length / controls.length;
    if (groups.size > 1 && ofRuns / ofControls >= OUT_OF_BALANCE) {
      const names = group.runs.map(({ run }) => run.name).join(', ');
      notes.push({
        why: 'controls-out-of-balance',
        message: `${names}: ${group.runs.length} of ${matched.length} runs, but only ${group.controls.length} of ${controls.length} controls went their way; make more of those controls, or the common background leans towards the others.`,
        place: 'procedure',
        run: null,
      });
    }
  }
  const scaled = [...new Set(matched.flatMap(({ background }) => background?.scaled ?? []))];
  if (scaled.length > 0) {
    notes.push({
      why: 'control-scaled',
      message: `The background is scaled up, because the runs had more: ${scaled.join('; ')}.`,
      place: 'procedure',
      run: null,
    });
  }
  const unknown = [
    ...new Set(matched.flatMap(({ background }) => background?.unknown.map(({ words }) => words) ?? [])),
  ];
  if (unknown.length > 0) {
    notes.push({
      why: 'control-not-recorded',
      message: `Whether the controls repeat it is not recorded: ${fewOf(unknown, 4)}.`,
      place: 'procedure',
      run: null,
    });
  }
  return notes;
}
