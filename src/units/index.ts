export * from './outcome.ts';
export * from './quantity.ts';
export * from './reading.ts';
