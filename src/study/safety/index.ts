export * from './cautions.ts';
export * from './dangerous-pairs.ts';
export * from './safety-gate.ts';
export * from './substances.ts';
