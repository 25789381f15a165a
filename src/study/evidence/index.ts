export * from './material-classes.ts';
