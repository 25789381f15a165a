export * from './drill-rates.ts';
export * from './fields-agreement.ts';
export * from './in-force.ts';
export * from './material-classes.ts';
export * from './round-outcome.ts';
export * from './round-state.ts';
export { sha256 } from './sha256.ts';
export * from './strata.ts';
