import { massG, minutes, type StepKind, times, volumeMl } from './step-kind.ts';

const at = ['vessel', 'place', 'person'] as const;

export const weigh: StepKind = {
  kind: 'weigh',
  says: 'Weigh',
  quantities: [massG],
  touches: [...at, 'tool'],
  brings: ['air', 'person', 'vessel'],
  makes: [],
};
export const rinse: StepKind = {
  kind: 'rinse',
  says: 'Rinse',
  quantities: [volumeMl, times, minutes],
  touches: [...at, 'tool', 'liquid', 'reagentLot'],
  brings: ['liquid', 'vessel', 'air'],
  makes: ['rinse'],
};
export const cut: StepKind = {
  kind: 'cut',
  says: 'Cut',
  quantities: [times, minutes, massG],
  touches: [...at, 'tool'],
  brings: ['act', 'tool', 'person', 'air'],
  makes: [],
};
export const handle: StepKind = {
  kind: 'handle',
  says: 'Use it as it is used',
  quantities: [times, minutes],
  touches: [...at, 'tool', 'liquid'],
  brings: ['act', 'person', 'air'],
  makes: [],
};
export const wash: StepKind = {
  kind: 'wash',
  says: 'Wash',
  quantities: [volumeMl, times],
  touches: [...at, 'tool', 'liquid', 'reagentLot'],
  brings: ['liquid', 'reagent', 'vessel'],
  makes: ['rinse'],
};
export const move: StepKind = {
  kind: 'move',
  says: 'Move to another vessel',
  quantities: [volumeMl, times],
  touches: [...at, 'tool', 'liquid'],
  brings: ['vessel', 'tool', 'air'],
  makes: [],
};
export const store: StepKind = {
  kind: 'store',
  says: 'Store',
  quantities: [minutes],
  touches: ['vessel', 'place'],
  brings: ['air', 'vessel'],
  makes: [],
};
