import { massG, minutes, poreUm, type StepKind, temperatureC, times, volumeMl } from './step-kind.ts';

const wet = ['vessel', 'tool', 'liquid', 'reagentLot', 'place', 'person'] as const;

export const soak: StepKind = {
  kind: 'soak',
  says: 'Soak',
  quantities: [volumeMl, minutes, temperatureC],
  touches: wet,
  brings: ['liquid', 'vessel', 'air'],
  makes: [],
};
export const shake: StepKind = {
  kind: 'shake',
  says: 'Shake',
  quantities: [minutes, times],
  touches: wet,
  brings: ['act', 'vessel'],
  makes: [],
};
export const digest: StepKind = {
  kind: 'digest',
  says: 'Digest',
  quantities: [volumeMl, massG, minutes, temperatureC],
  touches: wet,
  brings: ['reagent', 'vessel', 'air'],
  makes: [],
};
export const settle: StepKind = {
  kind: 'settle',
  says: 'Let settle',
  quantities: [minutes, temperatureC, volumeMl],
  touches: wet,
  brings: ['vessel', 'air'],
  makes: ['sediment'],
};
export const decant: StepKind = {
  kind: 'decant',
  says: 'Decant',
  quantities: [volumeMl],
  touches: wet,
  brings: ['vessel', 'air'],
  makes: ['remainder'],
};
export const float: StepKind = {
  kind: 'float',
  says: 'Float in brine',
  quantities: [volumeMl, massG, minutes, temperatureC],
  touches: wet,
  brings: ['reagent', 'vessel', 'air'],
  makes: ['float', 'sediment'],
};
export const dilute: StepKind = {
  kind: 'dilute',
  says: 'Dilute',
  quantities: [volumeMl],
  touches: wet,
  brings: ['liquid', 'vessel'],
  makes: [],
};
export const sieve: StepKind = {
  kind: 'sieve',
  says: 'Sieve',
  quantities: [poreUm, volumeMl],
  touches: wet,
  brings: ['tool', 'liquid', 'air'],
  makes: ['passed', 'remainder'],
};
