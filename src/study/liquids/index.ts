export * from './flow-report.ts';
