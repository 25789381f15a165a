export * from './check-list.ts';
export type { ChecklistFacts, ListedRun } from './facts.ts';
export { ITEM_STATES, type ItemState, SEVERITIES, type Severity } from './item.ts';
export * from './scores.ts';
