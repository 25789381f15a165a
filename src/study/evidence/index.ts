export * from './material-classes.ts';
export { sha256 } from './sha256.ts';
