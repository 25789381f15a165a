import { type KnownStepKind, massG, minutes, poreUm, temperatureC, times, volumeMl } from './step-kind.ts';

const wet = ['vessel', 'tool', 'liquid', 'reagentLot', 'place', 'person'] as const;

export const soak: KnownStepKind = {
  kind: 'soak',
  says: 'Soak',
  quantities: [volumeMl, minutes, temperatureC],
  touches: wet,
  brings: ['liquid', 'vessel', 'air'],
  makes: [],
  loses: true,
};
export const shake: KnownStepKind = {
  kind: 'shake',
  says: 'Shake',
  quantities: [minutes, times],
  touches: wet,
  brings: ['act', 'vessel'],
  makes: [],
  loses: true,
};
export const digest: KnownStepKind = {
  kind: 'digest',
  says: 'Digest',
  quantities: [volumeMl, massG, minutes, temperatureC],
  touches: wet,
  brings: ['reagent', 'vessel', 'air'],
  makes: [],
  loses: true,
};
export const settle: KnownStepKind = {
  kind: 'settle',
  says: 'Let settle',
  quantities: [minutes, temperatureC, volumeMl],
  touches: wet,
  brings: ['vessel', 'air'],
  makes: ['sediment'],
};
export const decant: KnownStepKind = {
  kind: 'decant',
  says: 'Decant',
  quantities: [volumeMl],
  touches: wet,
  brings: ['vessel', 'air'],
  makes: ['remainder'],
};
export const float: KnownStepKind = {
  kind: 'float',
  says: 'Float in brine',
  quantities: [volumeMl, massG, minutes, temperatureC],
  touches: wet,
  brings: ['reagent', 'vessel', 'air'],
  makes: ['float', 'sediment'],
};
export const dilute: KnownStepKind = {
  kind: 'dilute',
  says: 'Dilute',
  quantities: [volumeMl],
  touches: wet,
  brings: ['liquid', 'vessel'],
  makes: [],
};
export const sieve: KnownStepKind = {
  kind: 'sieve',
  says: 'Sieve',
  quantities: [poreUm, volumeMl],
  touches: wet,
  brings: ['tool', 'liquid', 'air'],
  makes: ['passed', 'remainder'],
};
