import { type KnownStepKind, massG, minutes, times, volumeMl } from './step-kind.ts';

const at = ['vessel', 'place', 'person'] as const;

export const weigh: KnownStepKind = {
  kind: 'weigh',
  says: 'Weigh',
  quantities: [massG],
  touches: [...at, 'tool'],
  brings: ['air', 'person', 'vessel'],
  makes: [],
};
export const rinse: KnownStepKind = {
  kind: 'rinse',
  says: 'Rinse',
  quantities: [volumeMl, times, minutes],
  touches: [...at, 'tool', 'liquid', 'reagentLot'],
  brings: ['liquid', 'vessel', 'air'],
  makes: ['rinse'],
};
export const cut: KnownStepKind = {
  kind: 'cut',
  says: 'Cut',
  quantities: [times, minutes, massG],
  touches: [...at, 'tool'],
  brings: ['act', 'tool', 'person', 'air'],
  makes: [],
};
export const handle: KnownStepKind = {
  kind: 'handle',
  says: 'Use it as it is used',
  quantities: [times, minutes],
  touches: [...at, 'tool', 'liquid'],
  brings: ['act', 'person', 'air'],
  makes: [],
};
export const wash: KnownStepKind = {
  kind: 'wash',
  says: 'Wash',
  quantities: [volumeMl, times],
  touches: [...at, 'tool', 'liquid', 'reagentLot'],
  brings: ['liquid', 'reagent', 'vessel'],
  makes: ['rinse'],
};
export const move: KnownStepKind = {
  kind: 'move',
  says: 'Move to another vessel',
  quantities: [volumeMl, times],
  touches: [...at, 'tool', 'liquid'],
  brings: ['vessel', 'tool', 'air'],
  makes: [],
  loses: true,
};
export const store: KnownStepKind = {
  kind: 'store',
  says: 'Store',
  quantities: [minutes],
  touches: ['vessel', 'place'],
  brings: ['air', 'vessel'],
  makes: [],
};
