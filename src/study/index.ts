export * from './records.ts';
export * from './step-kinds/index.ts';
