/** The example laboratory: an invented study, made by the same deeds that people use. */
export { type ExampleMade, type ExampleOrder, makeExampleLaboratory } from './make-example.ts';
export { LABORATORY_NAME, STUDY_NAME } from './story.ts';
