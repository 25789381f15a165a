export * from './advise.ts';
export * from './harm.ts';
export * from './matrices.ts';
export * from './reagents.ts';
