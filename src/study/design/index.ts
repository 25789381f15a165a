export * from './plan-report.ts';
export { type Assumed, type PlanAsked, type PlanRefusal, readPlan } from './plan-wish.ts';
export { chanceWords, designWords } from './plan-words.ts';
