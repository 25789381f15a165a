/** From ten answers to a whole plan: question, procedures, controls, runs in order, lists, hours, cautions. Pure and the same every time. */
import { REAGENT_FACTS } from '../../science/digestion/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { Step } from '../records/procedure.ts';
import type { AsGiven } from '../records/rules.ts';
import type { RunKind } from '../records/run.ts';
import type { Question } from '../records/study.ts';
import { SAFETY_FIRST, type SafetyGate, safetyGate } from '../safety/index.ts';
import { CAUSES, type Cause, kindOf } from '../step-kinds/index.ts';
import { ACT_WORDS, type PlanAnswers } from './answers.ts';
import { CANDIDATES, type Candidate } from './candidates.ts';
import { checkAnswers } from './check-answers.ts';
import { type Choice, type Chosen, chooseFor, handsOf } from './choices.ts';
import { type ControlSet, smallestControlSet } from './control-set.ts';
import { cleaningList, type Listed, shoppingList } from './lists.ts';
import { INERT, stepsFor, stepsOfControl, toolOf } from './steps-for.ts';

export interface PlannedProcedure {
  readonly name: string;
  readonly kind: RunKind;
  readonly steps: readonly Step[];
}

export interface PlannedRunOf {
  readonly name: string;
  readonly kind: RunKind;
  /** Name of its procedure. */
  readonly procedure: string;
  readonly session: number;
  readonly because: string;
}

export interface PlannedControl {
  readonly candidate: Candidate;
  readonly number: number;
  readonly buys: string;
}

export interface StudyPlan {
  readonly name: string;
  readonly specimen: string;
  readonly question: AsGiven<Question>;
  readonly choices: readonly Choice[];
  readonly causes: readonly Cause[];
  readonly controls: readonly PlannedControl[];
  readonly controlSet: ControlSet;
  readonly procedures: readonly PlannedProcedure[];
  /** In the order in which they are to be done. */
  readonly runs: readonly PlannedRunOf[];
  readonly filters: { readonly number: number; readonly sentence: string };
  readonly shopping: readonly Listed[];
  readonly cleaning: readonly Listed[];
  readonly hours: { readonly hands: number; readonly waiting: number; readonly sentence: string };
  readonly cautions: readonly string[];
  readonly gate: SafetyGate;
  /** What the plan could not do as a first study should. */
  readonly short: readonly string[];
  /** What goes beside the controls: pairs, coupons, doses. */
  readonly alsoDo: readonly Listed[];
}

/** Causes that the work brings in: from its steps, and what the answers say of food and person. */
function causesOf(answers: PlanAnswers, steps: readonly Step[]): readonly Cause[] {
  const brought = new Set<Cause>(['product', ...steps.flatMap((step) => kindOf(step)?.brings ?? [])]);
  brought.add('person');
  if (answers.matrixG > 0 || answers.matrix === 'saliva') brought.add('matrix');
  if (!steps.some((step) => step.kind === 'digest')) brought.delete('reagent');
  return CAUSES.filter((cause) => brought.has(cause));
}

export function planStudy(answers: PlanAnswers): Outcome<StudyPlan> {
  const problem = checkAnswers(answers);
  if (problem) return refused(problem);
  const chosen = chooseFor(answers);
  const specimen = specimenName(answers.product);
  const tool = toolOf(answers);
  const runSteps = stepsFor(answers, chosen, { body: specimen, spiked: false, tool });
  const causes = causesOf(answers, runSteps);
  const controlSet = smallestControlSet(causes);
  const controls = numbered(answers, chosen, controlSet);
  const procedures: PlannedProcedure[] = [
    { name: specimen, kind: 'specimen', steps: runSteps },
    ...controls
      .filter(({ candidate }) => candidate.kind !== null)
      .map(({ candidate }) => ({
        name: upper(candidate.called),
        kind: candidate.kind!,
        steps: stepsOfControl(answers, chosen, candidate),
      })),
    ...(chosen.spikes > 0
      ? [
          {
            name: 'Known pieces put in',
            kind: 'spiked-run' as const,
            steps: stepsFor(answers, chosen, { body: INERT[answers.act], spiked: true, tool }),
          },
        ]
      : []),
  ];
  const runs = runsOf(answers, chosen, specimen, controls);
  const gate = safetyGate(
    procedures.flatMap(({ steps }) => steps),
    answers.safety,
  );
  const hands = handsOf(
    answers,
    runSteps.some((step) => step.kind === 'digest'),
  );
  const dishes = runs.filter((run) => run.kind === 'air-control').length;
  const whole = runs.filter((run) =>
    ['specimen', 'act-control', 'spiked-run', 'matrix-blank'].includes(run.kind),
  );
  const handsHours = Math.round(
    whole.length * hands.run +
      (runs.length - whole.length - dishes) * hands.blank * 0.7 +
      dishes * hands.dish,
  );
  const waiting = Math.round(runSteps.reduce((sum, step) => sum + (step.quantities.minutes ?? 0), 0) / 60);
  const filters = Math.ceil(runs.length * (answers.matrixG > 0 ? 2 : 1) * 1.15);
  return done({
    name: `${specimen}: ${ACT_WORDS[answers.act].replace(/^be /, '')}`,
    specimen,
    question: questionOf(answers, chosen),
    choices: chosen.choices,
    causes,
    controls,
    controlSet,
    procedures,
    runs,
    filters: {
      number: filters,
      sentence: `${filters} filters of one lot (${chosen.filter}, ${chosen.poreUm} µm, 47 mm)${answers.matrixG > 0 ? ', two a run because food clogs,' : ''} with some to spare; measure the wetted circle, which is smaller than the filter.`,
    },
    shopping: shoppingList(answers, chosen, filters),
    cleaning: cleaningList(answers),
    hours: {
      hands: handsHours,
      waiting,
      sentence: `About ${handsHours} hours of hands over ${answers.sessions} sittings, and ${waiting} hours of waiting a run (digesting, drying). Guesses from common practice, without a source: the first run tells better.`,
    },
    cautions: [SAFETY_FIRST, ...gate.cautions.map(({ message }) => message), ...reagentCautions(chosen)],
    gate,
    short: chosen.short,
    alsoDo: alsoDo(answers, chosen),
  });
}

const reagentCautions = ({ option }: Chosen): readonly string[] =>
  option === null ? [] : REAGENT_FACTS[option.facts.reagent].cautions;

const upper = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const specimenName = (product: string): string => upper(product.trim()).slice(0, 80);

function questionOf(answers: PlanAnswers, chosen: Chosen): AsGiven<Question> {
  return {
    product: answers.product.trim(),
    act: answers.actWords.trim() || `To ${ACT_WORDS[answers.act]}`,
    durationMin: answers.minutes,
    liquid: answers.liquidWords,
    sizeFromUm: chosen.sizeFromUm,
    sizeToUm: 5000,
    unit: answers.unit,
    countsAs:
      'Pieces without cells or plant fibres, even in colour and thickness, that do not crumble when pressed: suspected synthetic. Fragments decide; fibres are reported apart. Wax, skin and starch out.',
    shapes: [],
    colours: [],
    decision: { confidence: 0.95, matters: null },
  };
}

/** How many of each control: as many of the deciding one as runs; the others as often as practice asks. */
function numbered(
  answers: PlanAnswers,
  chosen: Chosen,
  { chosen: set }: ControlSet,
): readonly PlannedControl[] {
  const number = (candidate: Candidate): number => {
    switch (candidate.name) {
      case 'act-control':
        return chosen.controls;
      case 'matrix-blank':
        return 3;
      case 'procedural-blank':
        return chosen.blanks;
      case 'open-dish':
        return answers.sessions;
      default:
        return 1;
    }
  };
  const blank = CANDIDATES.find((candidate) => candidate.name === 'procedural-blank')!;
  const asked = set.some(({ candidate }) => candidate === blank)
    ? []
    : [
        {
          candidate: blank,
          buys: 'Published quality criteria ask for three a batch: what the work itself adds.',
        },
      ];
  return [...set, ...asked]
    .map(({ candidate, buys }) => ({ candidate, number: number(candidate), buys }))
    .filter(({ number: n }) => n > 0);
}

/** Spread over the sittings, runs and controls by turns, blanks before samples before known pieces within a sitting. */
function runsOf(
  { sessions }: PlanAnswers,
  chosen: Chosen,
  specimen: string,
  controls: readonly PlannedControl[],
): readonly PlannedRunOf[] {
  const each: {
    kind: RunKind;
    short: string;
    procedure: string;
    n: number;
    because: string;
    place: number;
  }[] = [
    {
      kind: 'specimen',
      short: 'run',
      procedure: specimen,
      n: chosen.specimens,
      because: 'The product, carried through every step.',
      place: 2,
    },
    ...controls
      .filter(({ candidate }) => candidate.kind !== null)
      .map(({ candidate, number, buys }) => ({
        kind: candidate.kind!,
        short: candidate.name.replace('act-control', 'act').replace('procedural-', ''),
        procedure: upper(candidate.called),
        n: number,
        because: buys,
        place: candidate.name === 'act-control' || candidate.name === 'matrix-blank' ? 2 : 1,
      })),
    {
      kind: 'spiked-run',
      short: 'spiked',
      procedure: 'Known pieces put in',
      n: chosen.spikes,
      because: 'How many known pieces come back; last in its sitting, so that none stray into a run.',
      place: 3,
    },
  ];
  const runs = each.flatMap(({ n, short, place, ...one }) =>
    Array.from({ length: n }, (_, at) => ({
      ...one,
      name: n === 1 ? short : `${short}-${at + 1}`,
      session: 1 + Math.floor((at * sessions) / n),
      place,
      turn: (at + 0.5) / n,
    })),
  );
  return runs
    .sort(
      (a, b) => a.session - b.session || a.place - b.place || a.turn - b.turn || (a.name < b.name ? -1 : 1),
    )
    .map(({ name, kind, procedure, session, because }) => ({ name, kind, procedure, session, because }));
}

function alsoDo(answers: PlanAnswers, { option }: Chosen): readonly Listed[] {
  const out: Listed[] = [];
  if (answers.hottestC > 50) {
    out.push({
      what: 'Filter one part of a run and of a control hot and one after cooling, three pairs.',
      why: 'Waxes, oligomers and release agents fall out on cooling and look like particles (Gerhard et al. 2022: hot and cooled filtration differed).',
    });
  }
  if (option !== null && option.facts.reagent !== 'none') {
    out.push({
      what: 'Carry a small weighed piece of the product through the digestion, photographed before and after.',
      why: 'It shows whether the digestion deletes what is looked for.',
    });
  }
  out.push({
    what: 'Mark thirty known plastic and thirty known natural pieces as a drill, each operator, before the first filter.',
    why: 'The eye errs by 20 to 70 % on small pieces in published exercises; only your own error rate can enter your result.',
  });
  out.push({
    what: 'Photograph fibres of the clothes worn, the cloth, the gloves, the cap and the tape once.',
    why: 'Clothes were the main source of contamination in published work; a garment of an unusual colour makes its fibres traceable.',
  });
  out.push({
    what: 'Where the product allows it: none, one, two and four pieces in the same liquid.',
    why: 'A count that rises with dose can be attributed to the product; a constant background cannot make it rise.',
  });
  if (answers.act === 'mouth') {
    out.push({
      what: 'A mouth rinse before, as a matrix blank of the same person on the same day; no toothbrush, balm or meal within the hour.',
      why: 'Toothbrush bristles, balm and the last meal are in the mouth already.',
    });
  }
  return out;
}
