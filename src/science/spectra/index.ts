export { type BandWitness, levelled, type Peak, peaksOf, witness } from './bands.ts';
export { asymmetricBaseline, reweightedBaseline } from './baseline.ts';
export { GRIDS, toGrid } from './grid.ts';
export { type LeftOver, leftOver } from './left-over.ts';
export { type Match, match, type Ranked, type ReferenceSet, referenceSet } from './match.ts';
export {
  bandsOf,
  familyNamed,
  kin,
  kindOf,
  knownFamily,
  MATERIALS_FROM,
  type MaterialKind,
} from './materials.ts';
export { readSpectrumText } from './read-spectrum.ts';
export type { Reference } from './reference.ts';
export { savitzkyGolay } from './savitzky-golay.ts';
export type { RawSpectrum, Spectrum, Technique } from './spectrum.ts';
export { type WithoutFilter, withoutFilter } from './subtract-filter.ts';
export type { Threshold } from './threshold.ts';
export { type Told, techniqueIsGuessed, understand } from './understand.ts';
