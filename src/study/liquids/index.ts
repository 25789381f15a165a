export * from './brine-report.ts';
export * from './flow-report.ts';
export * from './marks-table.ts';
export * from './settle-report.ts';
