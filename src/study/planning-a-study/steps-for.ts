/** Steps of the runs and of each control, written so that they match by construction: only what a control leaves out differs. */
import type { Step, Touches } from '../records/procedure.ts';
import type { PlanAnswers } from './answers.ts';
import type { Candidate } from './candidates.ts';
import type { Chosen } from './choices.ts';

const UNTOUCHED: Touches = {
  vessel: null,
  tool: null,
  liquid: null,
  reagentLot: null,
  place: null,
  person: null,
  filterLot: null,
  optics: null,
};

/** What stands in place of the product. */
export const INERT: Readonly<Record<PlanAnswers['act'], string>> = {
  steep: 'glass rod',
  cut: 'glass plate',
  rub: 'glass plate',
  wash: 'steel bowl',
  'open-and-close': 'glass bottle with glass stopper',
  shake: 'glass bottle',
  mouth: 'steel spoon',
};

export interface Subject {
  /** Name of the specimen in a run, of the inert body in a control. */
  readonly body: string;
  readonly spiked: boolean;
  readonly tool: string;
}

export function stepsFor(answers: PlanAnswers, chosen: Chosen, subject: Subject): readonly Step[] {
  const step = (
    key: string,
    kind: string,
    quantities: Step['quantities'],
    touches: Partial<Touches>,
    minutesUncovered: number | null = null,
    note = '',
  ): Step => ({
    key,
    kind,
    quantities,
    touches: {
      ...UNTOUCHED,
      place: answers.place || null,
      person: answers.person || null,
      ...touches,
    },
    minutesUncovered,
    openings: null,
    note,
  });
  const vessel = answers.act === 'mouth' ? 'food-grade cup' : 'glass beaker';
  const water = { liquid: 'filtered water', reagentLot: 'water, day of the run' };
  const act = actSteps(answers, subject, step, vessel, water);
  return [
    step('rinse-before', 'rinse', { volume_ml: 100, times: 3 }, { vessel, ...water }, 1),
    ...act,
    ...(subject.spiked
      ? [
          step(
            'spike',
            'move',
            { times: 60 },
            { vessel, tool: 'needle' },
            5,
            'Known pieces of a colour used nowhere else, counted: 30 of each of two sizes.',
          ),
        ]
      : []),
    ...digestSteps(answers, chosen, step, vessel),
    step(
      'filter',
      'filter',
      { volume_ml: answers.volumeMl, pore_um: chosen.poreUm },
      { vessel: 'glass funnel', tool: 'hand pump or gravity', filterLot: 'one lot for all runs' },
      8,
      'Write down the volume at a few moments: the forecast tells how many filters it takes. Keep what does not pass.',
    ),
    step('rinse-funnel', 'rinse', { volume_ml: 20, times: 3 }, { vessel: 'glass funnel', ...water }, 2),
    step('dry', 'dry', { minutes: 240, temperature_c: 40 }, { vessel: 'covered glass dish' }, 1),
    step('photograph', 'photograph', { times: 1 }, { optics: opticsOf(answers) }, 4),
    step('score', 'score', { times: 1 }, {}, null, 'Blind: without knowing which filter is which.'),
  ];
}

type Make = (
  key: string,
  kind: string,
  quantities: Step['quantities'],
  touches: Partial<Touches>,
  minutesUncovered?: number | null,
  note?: string,
) => Step;

const opticsOf = ({ seeing }: PlanAnswers): string =>
  ({ macro: 'macro lens on a stand', stereo: 'stereo microscope', compound: 'compound microscope' })[seeing];

function actSteps(
  answers: PlanAnswers,
  { body, tool }: Subject,
  step: Make,
  vessel: string,
  water: Partial<Touches>,
): readonly Step[] {
  const { minutes, volumeMl, matrixG, hottestC } = answers;
  const hot = { temperature_c: hottestC };
  const liquid = answers.liquidWords;
  const open = Math.min(minutes, 10);
  const over = step('into-beaker', 'move', { times: 1 }, { vessel, tool: 'steel spatula' }, 1);
  const rinsedOff = step(
    'rinse-off',
    'rinse',
    { volume_ml: volumeMl, times: 1 },
    { vessel: body, ...water },
    1,
    `The rinse goes into the ${vessel}.`,
  );
  switch (answers.act) {
    case 'steep':
      return [
        step('steep', 'soak', { volume_ml: volumeMl, minutes, ...hot }, { vessel, tool: body, liquid }, 2),
      ];
    case 'cut':
      return [
        step(
          'cut',
          'cut',
          matrixG > 0 ? { minutes, mass_g: matrixG } : { minutes },
          { vessel: body, tool },
          open,
        ),
        over,
        step('dilute', 'dilute', { volume_ml: volumeMl }, { vessel, ...water }, 1),
      ];
    case 'rub':
      return [step('rub', 'handle', { minutes }, { vessel: body, tool }, open), rinsedOff];
    case 'wash':
      return [step('wash', 'wash', { volume_ml: volumeMl, times: 1 }, { vessel: body, liquid }, open), over];
    case 'open-and-close':
      return [
        step('fill', 'move', { volume_ml: volumeMl, times: 1 }, { vessel: body, liquid }, 1),
        step('open-and-close', 'handle', { times: Math.max(1, Math.round(minutes)) }, { vessel: body }, open),
        step('pour-out', 'move', { volume_ml: volumeMl, times: 1 }, { vessel }, 1),
      ];
    case 'shake':
      return [
        step('shake', 'shake', { minutes }, { vessel: body, liquid }, 1),
        step('pour-out', 'move', { volume_ml: volumeMl, times: 1 }, { vessel }, 1),
      ];
    case 'mouth':
      return [
        step(
          'rinse-mouth',
          'rinse',
          { volume_ml: 30, times: 3 },
          { vessel: 'mouth', liquid: 'drinking water' },
          1,
        ),
        step('hold', 'handle', { minutes }, { vessel: 'mouth', tool: body, liquid: 'saliva' }, open),
        step('collect', 'move', { times: 1 }, { vessel: 'food-grade cup' }, 1, 'Own sample only.'),
        step('dilute', 'dilute', { volume_ml: volumeMl }, { vessel: 'food-grade cup', ...water }, 1),
      ];
  }
}

function digestSteps(answers: PlanAnswers, { option }: Chosen, step: Make, vessel: string): readonly Step[] {
  if (option === null || option.facts.reagent === 'none') return [];
  const { facts, volumeMl } = option;
  const hours = facts.hours?.[1] ?? 24;
  const temperature = facts.ceilingC ?? 40;
  return [
    step(
      'digest',
      'digest',
      {
        ...(volumeMl !== null && volumeMl > 0 ? { volume_ml: Math.round(volumeMl) } : {}),
        minutes: Math.round(hours * 60),
        temperature_c: Math.min(temperature, 40),
      },
      {
        vessel: answers.act === 'mouth' ? 'food-grade cup' : vessel,
        liquid: facts.name,
        reagentLot: 'one bottle for all runs',
      },
      2,
      `${facts.amount}. Covered loosely, never sealed.`,
    ),
  ];
}

/** The steps of a control: those of the run, without what it leaves out. */
export function stepsOfControl(answers: PlanAnswers, chosen: Chosen, candidate: Candidate): readonly Step[] {
  const inert = INERT[answers.act];
  const tool = candidate.name === 'other-tool' ? 'tool of another material' : toolOf(answers);
  const whole = stepsFor(answers, chosen, { body: inert, spiked: false, tool });
  const only = (...keys: readonly string[]) => whole.filter((step) => keys.includes(step.key));
  const after = ['digest', 'filter', 'rinse-funnel', 'dry', 'photograph', 'score'];
  switch (candidate.name) {
    case 'matrix-blank':
      return whole.filter((step) => step.kind !== 'cut' && step.kind !== 'handle' && step.kind !== 'shake');
    case 'procedural-blank':
      return only('rinse-before', 'dilute', ...after);
    case 'reagent-blank':
      return only(...after);
    case 'rinse-blank':
    case 'vessel-blank':
      return candidate.name === 'vessel-blank'
        ? only('rinse-before', 'filter', 'rinse-funnel', 'dry', 'photograph', 'score')
        : only('filter', 'rinse-funnel', 'dry', 'photograph', 'score');
    case 'open-dish': {
      const open = whole.reduce((sum, step) => sum + (step.minutesUncovered ?? 0), 0);
      const first = whole[0]!;
      return [
        {
          ...first,
          key: 'uncover',
          kind: 'uncover',
          quantities: { minutes: open },
          touches: { ...first.touches, vessel: 'glass dish', tool: null, liquid: null, reagentLot: null },
          minutesUncovered: open,
          note: 'Beside the work, at its height; write down the area of the dish.',
        },
        ...only('photograph', 'score'),
      ];
    }
    case 'filter-blank':
    case 'empty-slide':
      return only('photograph', 'score');
    default:
      return whole;
  }
}

export const toolOf = ({ act }: PlanAnswers): string =>
  act === 'cut' ? 'steel knife' : act === 'rub' ? 'cotton cloth' : 'steel tongs';
