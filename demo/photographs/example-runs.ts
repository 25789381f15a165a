/**
 * The runs of the example laboratory whose filters are drawn, and what lies on them.
 * ALL OF IT IS INVENTED: no chopping board was cut, no filter photographed. The counts were chosen to be plausible
 * (they scatter more than Poisson) and to make a study worth judging; they are evidence of nothing.
 */
export type ExampleRunKind =
  | 'worn-board'
  | 'new-board'
  | 'act-control'
  | 'procedural-blank'
  | 'spiked'
  | 'open-dish';

export interface ExampleFilter {
  /** File name without ending; also the name of the filter. */
  readonly name: string;
  readonly run: string;
  readonly kind: ExampleRunKind;
  /** Session (day) in which the run was done: 1, 2 or 3. */
  readonly session: 1 | 2 | 3;
  /** Pieces that a careful person would keep, spiked ones included. */
  readonly synthetic: number;
  /** Of the orange pieces that were added: how many of each size lie on the filter; null where none were added. */
  readonly spiked: { readonly small: number; readonly large: number } | null;
  /** Shreds of carrot that the digestion left, lint and specks: things that a careful person drops. */
  readonly tissue: number;
  /** Share of the run's liquid that passed this filter. */
  readonly passed: number;
  /** The filter is covered by pulp; nothing can be counted on it. */
  readonly clogged: boolean;
  /** Colour of the knife's handle in that run: it was changed after the third worn-board run. */
  readonly handle: 'green' | 'blue';
}

const filter = (
  name: string,
  kind: ExampleRunKind,
  session: 1 | 2 | 3,
  synthetic: number,
  tissue: number,
  more: Partial<ExampleFilter> = {},
): ExampleFilter => ({
  name,
  run: name,
  kind,
  session,
  synthetic,
  tissue,
  spiked: null,
  passed: 1,
  clogged: false,
  handle: session === 1 ? 'green' : 'blue',
  ...more,
});

/** Orange pieces added to each spiked run: thirty of each size (maximum Feret diameter, µm). */
export const SPIKE = { small: { pieces: 30, sizeUm: 160 }, large: { pieces: 30, sizeUm: 400 } } as const;

/**
 * Invented counts. The second worn-board run clogged its first filter when 0.6 of the liquid had passed; the filter
 * that took the rest is `worn-2-rest`, and what the clogged one holds cannot be counted: not zero, but not looked at.
 */
export const EXAMPLE_FILTERS: readonly ExampleFilter[] = [
  filter('worn-1', 'worn-board', 1, 14, 9),
  filter('worn-2-first', 'worn-board', 1, 0, 0, { run: 'worn-2', passed: 0.6, clogged: true }),
  filter('worn-2-rest', 'worn-board', 1, 9, 11, { run: 'worn-2', passed: 0.4 }),
  filter('worn-3', 'worn-board', 2, 22, 8, { handle: 'green' }),
  filter('worn-4', 'worn-board', 2, 17, 12),
  filter('worn-5', 'worn-board', 3, 25, 7),
  filter('worn-6', 'worn-board', 3, 13, 10),
  filter('new-1', 'new-board', 1, 6, 8),
  filter('new-2', 'new-board', 2, 4, 11),
  filter('new-3', 'new-board', 3, 8, 9),
  filter('glass-1', 'act-control', 1, 3, 10),
  filter('glass-2', 'act-control', 1, 5, 7),
  filter('glass-3', 'act-control', 2, 2, 12, { handle: 'green' }),
  filter('glass-4', 'act-control', 2, 6, 8),
  filter('glass-5', 'act-control', 3, 4, 9),
  filter('glass-6', 'act-control', 3, 3, 11),
  filter('blank-1', 'procedural-blank', 1, 1, 0),
  filter('blank-2', 'procedural-blank', 2, 3, 0),
  filter('blank-3', 'procedural-blank', 3, 2, 0),
  filter('spiked-1', 'spiked', 1, 54, 8, { spiked: { small: 24, large: 28 } }),
  filter('spiked-2', 'spiked', 2, 50, 10, { spiked: { small: 21, large: 26 } }),
  filter('spiked-3', 'spiked', 3, 58, 9, { spiked: { small: 26, large: 29 } }),
  filter('dish-1', 'open-dish', 1, 1, 0),
  filter('dish-2', 'open-dish', 2, 2, 0),
  filter('dish-3', 'open-dish', 3, 1, 0),
];
