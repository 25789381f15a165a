import { abstractOf, type Backing, MEMORY, type Reagent } from './reagents.ts';

export const MATRICES = [
  'clean-water',
  'hot-extract',
  'saliva',
  'fatty',
  'starchy',
  'plant',
  'mineral',
  'soft-polymer',
] as const;
export type Matrix = (typeof MATRICES)[number];

export interface MatrixFacts {
  readonly matrix: Matrix;
  readonly name: string;
  /** In the order in which they are offered. */
  readonly options: readonly Reagent[];
  readonly avoid: readonly Reagent[];
  readonly watch: string;
  readonly first: string;
  readonly backing: Backing;
}

export const MATRIX_FACTS: Readonly<Record<Matrix, MatrixFacts>> = {
  'clean-water': {
    matrix: 'clean-water',
    name: 'clean water, rinse water',
    options: ['none'],
    avoid: [],
    first: 'Filter it directly.',
    watch: 'Do not digest needlessly: each step adds to the blank.',
    backing: MEMORY,
  },
  'hot-extract': {
    matrix: 'hot-extract',
    name: 'hot-water extract (tea, kettle)',
    options: ['none', 'dilute-peroxide', 'peroxide'],
    avoid: ['cold-alkali', 'hot-alkali'],
    first: 'Filter one part hot and one after cooling, and compare.',
    watch:
      'Waxes, oligomers and release agents fall out on cooling and look like particles; cellulose fibres remain.',
    backing: abstractOf('Gerhard et al. 2022, Food Addit. Contam. A (hot and cooled filtration differed)'),
  },
  saliva: {
    matrix: 'saliva',
    name: 'saliva, mucus, protein',
    options: ['enzymes', 'cold-alkali'],
    avoid: ['strong-acid', 'hypochlorite'],
    first: 'Dilute with filtered water, let it settle or sieve it, then enzymes.',
    watch:
      'Mucus sets again on cooling; acids throw protein down. Own sample only, in food-grade ware, never with laboratory glass.',
    backing: abstractOf('von Friesen et al. 2019; enzymes on blood: abstract, acids failed there'),
  },
  fatty: {
    matrix: 'fatty',
    name: 'fatty (meat, cheese, lip balm)',
    options: ['lipase', 'soap-rinse', 'alkali-then-ethanol'],
    avoid: ['cold-alkali', 'strong-acid'],
    first: 'Warm, filtered soap solution or lipase; alkali only with ethanol after it.',
    watch:
      'Alkali alone turns fat into a soap gel that holds particles and clogs; soap residue is taken for polyethylene.',
    backing: abstractOf('Front. Environ. Sci. 2020, 8:563565'),
  },
  starchy: {
    matrix: 'starchy',
    name: 'starchy (potato, bread, rice)',
    options: ['amylase', 'dilute-peroxide', 'peroxide'],
    avoid: ['strong-acid'],
    first: 'Amylase at its label’s temperature, then mild peroxide.',
    watch:
      'Starch grains show a dark cross between crossed polars: so what is left can be told (from memory, unverified).',
    backing: MEMORY,
  },
  plant: {
    matrix: 'plant',
    name: 'plant matter (carrot, leaf, paper)',
    options: ['cellulase', 'dilute-peroxide', 'peroxide', 'fenton'],
    avoid: ['hypochlorite', 'strong-acid'],
    first: 'Mild peroxide, repeated; cellulase for patience.',
    watch: 'Cotton and viscose may outlive everything: report “cellulosic” as a class of its own.',
    backing: abstractOf('Pfeiffer & Fischer 2020, Front. Environ. Sci. 8:572424'),
  },
  mineral: {
    matrix: 'mineral',
    name: 'mineral (sand, chalk, filler)',
    options: ['none', 'brief-acid'],
    avoid: ['strong-acid', 'hot-alkali'],
    first: 'Float it off in a brine first; a brief weak acid where it is chalk.',
    watch: 'Acids harm nylon: not where nylon is in question.',
    backing: abstractOf('Pfeiffer & Fischer 2020, Front. Environ. Sci. 8:572424'),
  },
  'soft-polymer': {
    matrix: 'soft-polymer',
    name: 'soft polymers and elastomers',
    options: ['enzymes'],
    avoid: ['cold-alkali', 'hot-alkali', 'strong-acid'],
    first: 'Cold water and enzymes; decide in the question whether the soft polymer is target or matrix.',
    watch: 'Alkali can turn poly(vinyl acetate) into a soluble polymer; rosin and wax smear when warm.',
    backing: MEMORY,
  },
};
