/**
 * Which spiked runs tell what is lost of a run. Stray particles do not matter here, losses do: the same liquid, the same
 * digestion, the same pores, and no step left out in which pieces are lost.
 */
import type { Step } from '../records/procedure.ts';
import type { RunId } from '../records/run.ts';
import { kindOf, stepKind } from '../step-kinds/index.ts';
import { attributeWords } from './attribute-words.ts';
import { type Comparison, compareSteps, type StepCompared } from './compare.ts';
import { type Tolerances, USUAL_TOLERANCES } from './tolerances.ts';

/** Spiked runs that did the same, with the pores of the filters they ended on. */
export interface SpikedSteps {
  readonly runs: readonly RunId[];
  readonly name: string;
  readonly steps: readonly Step[];
  readonly poresUm: readonly number[];
}

/** What spiked runs tell of one specimen run. */
export interface RunRecovery {
  /** Spiked runs that lose as the run loses, as far as it is written down. */
  readonly serving: readonly RunId[];
  /** Spiked runs that went another way, with what they would have to do otherwise, in words. */
  readonly others: readonly { readonly runs: readonly RunId[]; readonly words: readonly string[] }[];
  /** What the serving ones did otherwise and may matter, or what is not recorded, in words. */
  readonly doubts: readonly string[];
}

/** Attributes that decide what is lost; all others (a vessel, a lot, a lens) only raise a doubt. */
const DECIDES = new Set(['liquid', 'pore_um', 'temperature_c', 'minutes']);
const RAISES_DOUBT = new Set(['vessel', 'tool', 'reagentLot', 'filterLot', 'optics', 'volume_ml']);

/** Pieces are lost where a step makes a fraction, or declares that it loses them. */
const loses = (step: Step): boolean =>
  (stepKind(step.kind)?.loses ?? false) || (kindOf(step)?.makes.length ?? 0) > 0;

const decides = (step: Step, attribute: string): boolean =>
  DECIDES.has(attribute) && (attribute === 'liquid' || loses(step));

function differencesOf({ step, grade, attributes }: StepCompared): readonly string[] {
  if (grade === 'missing')
    return loses(step) || step.touches.liquid !== null ? [`with the step “${step.key}”`] : [];
  return attributes
    .filter((one) => one.grade === 'different' && decides(step, one.attribute))
    .map((one) => `with ${attributeWords(one.attribute, one.run)} at “${step.key}”`);
}

function doubtsOf({ step, attributes }: StepCompared): readonly string[] {
  return attributes.flatMap(({ attribute, grade, run }) => {
    if (grade === 'unknown' && decides(step, attribute))
      return [`${attributeWords(attribute, null)} at “${step.key}” is not recorded on both`];
    if (grade !== 'different' || !RAISES_DOUBT.has(attribute)) return [];
    return loses(step) || attribute === 'optics'
      ? [`${attributeWords(attribute, run)} at “${step.key}” is another`]
      : [];
  });
}

/** Pores of a run's filters that no filter of the spiked run has. */
const poresMissing = (run: readonly number[], spiked: readonly number[]): readonly string[] =>
  spiked.length === 0
    ? []
    : [...new Set(run)]
        .filter((pore) => !spiked.includes(pore))
        .map((pore) => `on filters with ${pore} µm pores`);

const wordsOf = (comparison: Comparison, pores: readonly string[]): readonly string[] => [
  ...new Set([...comparison.steps.flatMap(differencesOf), ...pores]),
];

/** Every group of spiked runs against the steps of one specimen run. */
export function recoveryOfRun(
  steps: readonly Step[],
  poresUm: readonly number[],
  spiked: readonly SpikedSteps[],
  product: readonly string[],
  tolerances: Tolerances = USUAL_TOLERANCES,
): RunRecovery {
  const compared = spiked.map((one) => {
    const comparison = compareSteps(steps, one.steps, product, tolerances);
    return { ...one, comparison, words: wordsOf(comparison, poresMissing(poresUm, one.poresUm)) };
  });
  const serving = compared.filter(({ words }) => words.length === 0);
  return {
    serving: serving.flatMap(({ runs }) => runs),
    others: compared.filter(({ words }) => words.length > 0).map(({ runs, words }) => ({ runs, words })),
    doubts: [...new Set(serving.flatMap(({ comparison }) => comparison.steps.flatMap(doubtsOf)))],
  };
}
