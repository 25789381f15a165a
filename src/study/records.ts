/**
 * The records of a laboratory, all families: readonly types, and makers that accept a record as given or say why not.
 * Each family has its file in records/; this page is the list.
 */
export * from './records/account.ts';
export * from './records/bench.ts';
export * from './records/bench-answer.ts';
export * from './records/blind-round.ts';
export * from './records/claim-snapshot.ts';
export * from './records/completeness.ts';
export * from './records/confirmation.ts';
export * from './records/false-finds.ts';
export * from './records/filter.ts';
export * from './records/found.ts';
export * from './records/joining.ts';
export * from './records/known-set.ts';
export * from './records/laboratory.ts';
export * from './records/mark.ts';
export * from './records/photo.ts';
export * from './records/plan.ts';
export * from './records/possible-step.ts';
export * from './records/procedure.ts';
export * from './records/published-value.ts';
export { type AsGiven, type Day, type Id, type Instant, isIdText } from './records/rules.ts';
export * from './records/run.ts';
export * from './records/search-settings.ts';
export * from './records/specimen.ts';
export * from './records/spectrum-file.ts';
export { makeOwnStepKind, type OwnStepKind } from './records/step-kind.ts';
export * from './records/study.ts';
export * from './records/tap.ts';
export * from './records/weighing.ts';
export * from './records/withdrawal.ts';
