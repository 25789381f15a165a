import type { MarkedParticleJson } from '../../api/index.ts';

type Names<T extends string> = { readonly [N in T]: true };

/** Every shape and colour once, in the order of the reporting guidelines; a new one does not compile until it is here. */
const SHAPES: Names<MarkedParticleJson['shape']> = {
  fragment: true,
  fibre: true,
  film: true,
  foam: true,
  bead: true,
};
const COLOURS: Names<MarkedParticleJson['colour']> = {
  clear: true,
  white: true,
  grey: true,
  black: true,
  blue: true,
  green: true,
  red: true,
  pink: true,
  orange: true,
  yellow: true,
  brown: true,
  purple: true,
  multicoloured: true,
};
export const SHAPE_NAMES = Object.keys(SHAPES) as readonly MarkedParticleJson['shape'][];
export const COLOUR_NAMES = Object.keys(COLOURS) as readonly MarkedParticleJson['colour'][];
