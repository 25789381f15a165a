/**
 * The example study, in words and figures. ALL INVENTED: no board was cut, no filter photographed, nobody of these names
 * did any of it. It shows the way of working and is evidence of nothing.
 */
import type { AsGiven, Question, RunKind, SafetyAnswers, Step } from '../../src/study/index.ts';
import type { ExampleFilter, ExampleRunKind } from '../photographs/index.ts';

export const LABORATORY_NAME = 'Example laboratory (invented)';
export const STUDY_NAME = 'Do worn chopping boards shed into carrot?';
/** Invented people. */
export const SCORERS = ['Mara Example', 'Jonas Example'] as const;

export const QUESTION: AsGiven<Question> = {
  product: 'Polyethylene chopping board, worn by five years of use (invented)',
  act: 'One hundred grams of carrot cut to cubes on it with a kitchen knife',
  durationMin: 6,
  liquid: 'Filtered water, after the carrot is digested',
  sizeFromUm: 100,
  sizeToUm: null,
  unit: 'particles per gram',
  countsAs:
    'Pieces of 100 µm and larger without cells or fibres of the plant, even in colour, that do not crumble: suspected synthetic, by eye.',
  shapes: [],
  colours: [],
  decision: { confidence: 0.95, matters: null },
};

/** Grams of carrot cut in one run: what the answer is divided by. */
export const CARROT_G = 100;
export const LIQUID_ML = 200;

export const DAYS = { 1: '2026-03-02', 2: '2026-03-09', 3: '2026-03-16' } as const;

const KINDS: Readonly<Record<ExampleRunKind, RunKind>> = {
  'worn-board': 'specimen',
  'new-board': 'specimen',
  'act-control': 'act-control',
  'procedural-blank': 'procedural-blank',
  spiked: 'spiked-run',
  'open-dish': 'air-control',
};
export const runKindOf = (filter: ExampleFilter): RunKind => KINDS[filter.kind];

type Knife = ExampleFilter['handle'];

const step = (
  key: string,
  kind: string,
  quantities: Record<string, number>,
  touches: Partial<Step['touches']>,
  minutesUncovered: number | null = null,
  note = '',
): AsGiven<Step> => ({
  key,
  kind,
  quantities,
  touches: {
    vessel: null,
    tool: null,
    liquid: null,
    reagentLot: null,
    place: 'still corner of the kitchen laboratory',
    person: 'Mara Example',
    filterLot: null,
    optics: null,
    ...touches,
  },
  minutesUncovered,
  openings: null,
  note,
});

const clean = (on: string): AsGiven<Step>[] => [
  step(
    'rinse-before',
    'rinse',
    { volume_ml: 300, times: 3 },
    { vessel: on, liquid: 'filtered water', reagentLot: 'water W-1' },
  ),
];
const cutting = (on: string, knife: Knife): AsGiven<Step>[] => [
  step('cut', 'cut', { minutes: 6, mass_g: CARROT_G }, { vessel: on, tool: `knife with ${knife} handle` }, 6),
  step('move', 'move', { times: 1 }, { vessel: 'glass beaker 1 L', tool: 'steel spatula' }, 1),
];
const afterwards: readonly AsGiven<Step>[] = [
  step(
    'digest',
    'digest',
    { volume_ml: 400, minutes: 2880, temperature_c: 40 },
    { vessel: 'glass beaker 1 L', liquid: 'potassium hydroxide 10 %', reagentLot: 'alkali K-1' },
    2,
    'Safety data sheet read; goggles and gloves; local rules come first.',
  ),
  step(
    'dilute',
    'dilute',
    { volume_ml: LIQUID_ML },
    { vessel: 'glass beaker 1 L', liquid: 'filtered water', reagentLot: 'water W-1' },
    1,
  ),
  step(
    'filter',
    'filter',
    { volume_ml: LIQUID_ML, pore_um: 20 },
    { vessel: 'glass funnel', liquid: 'filtered water', filterLot: 'F-7' },
    8,
  ),
  step(
    'dry',
    'dry',
    { minutes: 240, temperature_c: 40 },
    { vessel: 'covered glass dish', filterLot: 'F-7' },
    1,
  ),
  step('photograph', 'photograph', { times: 1 }, { optics: 'stand, macro lens 1:1' }, 4),
  step('score', 'score', { times: 1 }, {}),
];
const spikeStep = step(
  'spike',
  'move',
  { times: 60 },
  { vessel: 'glass beaker 1 L', tool: 'needle' },
  5,
  'Sixty orange pieces, thirty of each size.',
);

export interface ExampleProcedure {
  readonly name: string;
  readonly editions: readonly { readonly steps: readonly AsGiven<Step>[]; readonly because: string }[];
}

const KNIFE_CHANGED =
  'The green handle chips; from the fourth worn-board run on the knife with the blue handle is used.';
const withKnives = (steps: (knife: Knife) => readonly AsGiven<Step>[]): ExampleProcedure['editions'] => [
  { steps: steps('green'), because: '' },
  { steps: steps('blue'), because: KNIFE_CHANGED },
];

/** One procedure a kind of run; a second edition since the knife was changed. */
export const PROCEDURES: Readonly<Record<ExampleRunKind, ExampleProcedure>> = {
  'worn-board': {
    name: 'Carrot on the worn board',
    editions: withKnives((knife) => [...clean('worn board'), ...cutting('worn board', knife), ...afterwards]),
  },
  'new-board': {
    name: 'Carrot on a new board',
    editions: withKnives((knife) => [...clean('new board'), ...cutting('new board', knife), ...afterwards]),
  },
  'act-control': {
    name: 'Carrot on a glass plate',
    editions: withKnives((knife) => [
      ...clean('glass plate'),
      ...cutting('glass plate', knife),
      ...afterwards,
    ]),
  },
  'procedural-blank': {
    name: 'Blank without carrot',
    editions: [{ steps: [...clean('glass plate'), ...afterwards], because: '' }],
  },
  spiked: {
    name: 'Carrot on a glass plate with known pieces',
    editions: withKnives((knife) => [
      ...clean('glass plate'),
      ...cutting('glass plate', knife),
      spikeStep,
      ...afterwards,
    ]),
  },
  'open-dish': {
    name: 'Open dish beside the work',
    editions: [
      {
        steps: [
          step('uncover', 'uncover', { minutes: 30 }, { vessel: 'glass dish' }, 30),
          ...afterwards.filter((s) => s.key === 'photograph' || s.key === 'score'),
        ],
        because: '',
      },
    ],
  },
};

/** Which edition a run followed: the first with the green handle, the second with the blue one. */
export const editionOf = (filter: ExampleFilter): number =>
  filter.handle === 'blue' && PROCEDURES[filter.kind].editions.length > 1 ? 2 : 1;

/** The new bottle that one run was digested with and no control has seen: it breaks that run's coverage. */
export const OTHER_BOTTLE = {
  run: 'worn-6',
  stepKey: 'digest',
  lot: 'alkali K-2',
  what: 'Digested with alkali from a new bottle, lot K-2: the first one was empty.',
  why: 'The bottle K-1 ran out on the last day.',
} as const;

export const CLOGGED = {
  run: 'worn-2',
  what: 'The first filter clogged when 120 of 200 mL had passed; the rest went through a second filter.',
  why: 'Digestion was stopped after one day by mistake; pulp was left.',
} as const;

/** What a person of this study would have settled before the alkali was opened. Invented. */
export const SAFETY: SafetyAnswers = {
  dataSheets:
    'Potassium hydroxide, of the bottle’s maker: read by Mara Example and Jonas Example on the day before session 1.',
  protection: 'Goggles, nitrile gloves, cotton coat; face shield while the pellets dissolve.',
  ventilation:
    'By the open window of the kitchen laboratory, no food in the room on those days; lid loose on the beaker.',
  emergency:
    'Eye wash bottle and running water within two steps, ice bath ready, telephone on the wall; spills taken up with much water.',
  waste:
    'Neutralised with citric acid under the window, checked with a strip, then to the community’s chemical waste.',
  supervision: 'Never alone: the second operator is in the room; visitors and children stay out.',
};
