import { minutes, poreUm, type StepKind, temperatureC, times, volumeMl } from './step-kind.ts';

const at = ['vessel', 'tool', 'place', 'person'] as const;

export const filter: StepKind = {
  kind: 'filter',
  says: 'Filter',
  quantities: [volumeMl, poreUm, minutes],
  touches: [...at, 'liquid', 'filterLot'],
  brings: ['filter', 'vessel', 'air'],
  makes: ['passed', 'remainder'],
};
export const dry: StepKind = {
  kind: 'dry',
  says: 'Dry',
  quantities: [minutes, temperatureC],
  touches: [...at, 'filterLot'],
  brings: ['air', 'vessel'],
  makes: [],
};
export const photograph: StepKind = {
  kind: 'photograph',
  says: 'Photograph',
  quantities: [times],
  touches: ['place', 'person', 'optics'],
  brings: ['photograph', 'air'],
  makes: [],
};
export const score: StepKind = {
  kind: 'score',
  says: 'Mark the particles',
  quantities: [times],
  touches: ['person'],
  brings: ['scorer'],
  makes: [],
};
export const uncover: StepKind = {
  kind: 'uncover',
  says: 'Stand open',
  quantities: [minutes],
  touches: at,
  brings: ['air'],
  makes: [],
};
