import {
  type Choice,
  type CountingInput,
  type JudgeOptions,
  type Robustness,
  robustness,
} from '../../science/counting/index.ts';
import { type EarlierControls, type RunForInput, servesAny, studyInput } from '../counting-input.ts';
import { BACKGROUND_KINDS } from '../records/run.ts';
import type { SpecimenId } from '../records/specimen.ts';

/** The same runs counted from another size on. */
export interface Recounted {
  readonly sizeFromUm: number;
  readonly runs: readonly RunForInput[];
}

/** Runs with the pieces that nobody has looked at yet left out. */
const decidedOnly = (runs: readonly RunForInput[]): RunForInput[] =>
  runs.map((run) => (run.count === null ? run : { ...run, count: run.kept }));

const withoutKinds = (runs: readonly RunForInput[], kinds: readonly string[]): RunForInput[] =>
  runs.filter((run) => !kinds.includes(run.run.kind));

/**
 * The defensible choices of a study: undecided pieces in or out, another kind of control, another size floor, and without
 * what the model takes in beside the counts: recovery, its sizes, earlier controls, the uncertainty of what was looked at.
 */
export function choicesOf(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
  recounted: readonly Recounted[] = [],
  earlier: readonly EarlierControls[] = [],
): Choice[] {
  const of = (some: readonly RunForInput[]) => studyInput(some, specimen, confidence, earlier);
  const base = of(runs);
  const choices: Choice[] = [];
  if (runs.some((run) => run.unmarked > 0)) {
    choices.push({
      what: 'undecided pieces',
      choice: 'left out until somebody has looked',
      input: of(decidedOnly(runs)).input,
    });
  }
  for (const kind of BACKGROUND_KINDS) {
    if (kind === base.background || !runs.some((run) => run.run.kind === kind && run.count !== null))
      continue;
    // A kind that went another way than the runs is no defensible background.
    if (!servesAny(runs, specimen, kind)) continue;
    const others = BACKGROUND_KINDS.filter((other) => other !== kind);
    choices.push({
      what: 'background',
      choice: `from each ${kind.replaceAll('-', ' ')}`,
      input: of(withoutKinds(runs, others)).input,
    });
  }
  for (const { sizeFromUm, runs: again } of recounted) {
    choices.push({
      what: 'size',
      choice: `pieces of ${Math.round(sizeFromUm)} µm and more`,
      input: of(again).input,
    });
  }
  const { spikes, strata, history, ...plain } = base.input;
  const kept = {
    ...(spikes ? { spikes } : {}),
    ...(strata ? { strata } : {}),
    ...(history ? { history } : {}),
  };
  if (plain.recovery) {
    choices.push({
      what: 'recovery',
      choice: 'not corrected for',
      input: { ...plain, ...(history ? { history } : {}), recovery: null },
    });
  }
  if (strata) {
    const { strata: _, ...without } = kept;
    choices.push({ what: 'recovery', choice: 'one figure for all sizes', input: { ...plain, ...without } });
  }
  if (history) {
    const { history: _, ...without } = kept;
    choices.push({
      what: 'scatter',
      choice: 'learned from these runs alone, without earlier controls',
      input: { ...plain, ...without },
    });
  }
  if ([...plain.portions, ...plain.controls].some((run) => run.effortUncertainty !== undefined)) {
    choices.push({
      what: 'what was looked at',
      choice: 'taken to be known exactly',
      input: {
        ...plain,
        ...kept,
        portions: plain.portions.map(({ effortUncertainty: _, ...run }) => run),
        controls: plain.controls.map(({ effortUncertainty: _, ...run }) => run),
      },
    });
  }
  return choices;
}

/** What the evidence adds to the counts. */
export type BesideCounts = Partial<Pick<CountingInput, 'drill' | 'confirmation'>>;

/** The claim of one specimen under every defensible choice, and what share of them agrees. */
export function robustnessOfStudy(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
  recounted: readonly Recounted[] = [],
  options: JudgeOptions = {},
  beside: BesideCounts = {},
  earlier: readonly EarlierControls[] = [],
): Robustness {
  const { drill = null, confirmation = null } = beside;
  const base = { ...studyInput(runs, specimen, confidence, earlier).input, drill, confirmation };
  const choices = choicesOf(runs, specimen, confidence, recounted, earlier).map((choice) => ({
    ...choice,
    input: { ...choice.input, drill, confirmation },
  }));
  if (drill) {
    choices.push({ what: 'scorer', choice: 'taken to make no errors', input: { ...base, drill: null } });
  }
  if (confirmation) {
    choices.push({ what: 'tested pieces', choice: 'left aside', input: { ...base, confirmation: null } });
  }
  return robustness(base, choices, options);
}
