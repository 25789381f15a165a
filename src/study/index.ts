export * from './claim/index.ts';
export * from './counting-input.ts';
export * from './coverage/index.ts';
export * from './held-back.ts';
export * from './marking.ts';
export * from './records.ts';
export * from './run-count.ts';
export * from './step-kinds/index.ts';
