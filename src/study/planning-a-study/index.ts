export * from './answers.ts';
export { CANDIDATES, type Candidate } from './candidates.ts';
export { checkAnswers } from './check-answers.ts';
export type { Choice } from './choices.ts';
export * from './control-set.ts';
export * from './limits.ts';
export type { Listed } from './lists.ts';
export * from './plan-study.ts';
