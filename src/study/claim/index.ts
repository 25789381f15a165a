export * from './claim.ts';
export * from './claim-from.ts';
export * from './designs.ts';
export * from './facts.ts';
export * from './locked-words.ts';
export * from './pieces.ts';
export * from './published.ts';
export * from './robustness-of-study.ts';
