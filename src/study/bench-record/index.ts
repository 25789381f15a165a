export * from './balance.ts';
export * from './deposition.ts';
export * from './label-code.ts';
export * from './run-order.ts';
export * from './run-sheet.ts';
export * from './standing-taps.ts';
export * from './step-record.ts';
export * from './uncovered.ts';
