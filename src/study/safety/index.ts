export * from './cautions.ts';
export * from './dangerous-pairs.ts';
export * from './safety-gate.ts';
export * from './steps-in-force.ts';
export * from './substances.ts';
