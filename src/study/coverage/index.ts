export { attributeWords } from './attribute-words.ts';
export * from './closing-control.ts';
export * from './compare.ts';
export * from './cover-run.ts';
export { type AttributeGrade, GRADES, type Grade } from './grade.ts';
export { plainWords } from './plain-words.ts';
export * from './serving.ts';
export * from './steps-as-done.ts';
export * from './tolerances.ts';
