export * from './claim/index.ts';
export * from './records.ts';
export * from './step-kinds/index.ts';
