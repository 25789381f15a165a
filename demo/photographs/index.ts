/** The drawn photographs of the example laboratory: all invented. */
export {
  type DrawProgress,
  drawExamplePhotographs,
  type ExamplePhotograph,
  examplePhotographs,
} from './draw-examples.ts';
export { EXAMPLE_FILTERS, type ExampleFilter, type ExampleRunKind, SPIKE } from './example-runs.ts';
