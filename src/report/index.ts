export * from './build-report.ts';
export * from './charts/index.ts';
export * from './facts.ts';
export * from './recount.ts';
export { type CsvFile, csvCell, csvFiles, csvText } from './render/csv.ts';
export { htmlOf, type Reader } from './render/html.ts';
export { markdownOf } from './render/markdown.ts';
export type { Report } from './tree.ts';
