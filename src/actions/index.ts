export * from './ledgers.ts';
export * from './ports.ts';
