import {
  type Choice,
  type CountingInput,
  type JudgeOptions,
  type Robustness,
  robustness,
} from '../../science/counting/index.ts';
import { type RunForInput, servesAny, studyInput } from '../counting-input.ts';
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

/** The defensible choices of a study: undecided pieces in or out, another kind of control, another size floor, no recovery. */
export function choicesOf(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
  recounted: readonly Recounted[] = [],
): Choice[] {
  const base = studyInput(runs, specimen, confidence);
  const choices: Choice[] = [];
  if (runs.some((run) => run.unmarked > 0)) {
    choices.push({
      what: 'undecided pieces',
      choice: 'left out until somebody has looked',
      input: studyInput(decidedOnly(runs), specimen, confidence).input,
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
      input: studyInput(withoutKinds(runs, others), specimen, confidence).input,
    });
  }
  for (const { sizeFromUm, runs: again } of recounted) {
    choices.push({
      what: 'size',
      choice: `pieces of ${Math.round(sizeFromUm)} µm and more`,
      input: studyInput(again, specimen, confidence).input,
    });
  }
  if (base.input.recovery) {
    const { spikes: _, ...without } = base.input;
    choices.push({ what: 'recovery', choice: 'not corrected for', input: { ...without, recovery: null } });
  }
  return choices;
}

/** What the evidence adds to the counts, and what earlier studies know of scatter. */
export type BesideCounts = Partial<Pick<CountingInput, 'drill' | 'confirmation' | 'history' | 'strata'>> & {
  /** Relative uncertainty of what was looked at, by the run's name. */
  readonly extents?: ReadonlyMap<string, number>;
};

/** The claim of one specimen under every defensible choice, and what share of them agrees. */
export function robustnessOfStudy(
  runs: readonly RunForInput[],
  specimen: SpecimenId,
  confidence: number,
  recounted: readonly Recounted[] = [],
  options: JudgeOptions = {},
  beside: BesideCounts = {},
): Robustness {
  const { drill = null, confirmation = null, history = [] } = beside;
  const base = { ...studyInput(runs, specimen, confidence).input, drill, confirmation };
  const choices = choicesOf(runs, specimen, confidence, recounted).map((choice) => ({
    ...choice,
    input: { ...choice.input, drill, confirmation },
  }));
  if (drill) {
    choices.push({ what: 'scorer', choice: 'taken to make no errors', input: { ...base, drill: null } });
  }
  if (confirmation) {
    choices.push({ what: 'tested pieces', choice: 'left aside', input: { ...base, confirmation: null } });
  }
  if (history.length > 0) {
    choices.push({
      what: 'scatter',
      choice: 'learned from earlier controls of the laboratory too',
      input: { ...base, history },
    });
  }
  if (beside.strata && beside.strata.length > 1) {
    choices.push({
      what: 'recovery',
      choice: 'by the size of the known pieces',
      input: { ...base, strata: beside.strata },
    });
  }
  const { extents } = beside;
  if (extents && extents.size > 0) {
    const unsure = <R extends { readonly name: string }>(run: R): R => {
      const effortUncertainty = extents.get(run.name);
      return effortUncertainty === undefined ? run : { ...run, effortUncertainty };
    };
    choices.push({
      what: 'what was looked at',
      choice: 'uncertain, for pieces lie unevenly over the filter',
      input: { ...base, portions: base.portions.map(unsure), controls: base.controls.map(unsure) },
    });
  }
  return robustness(base, choices, options);
}
