import type { Spectrum } from './spectrum.ts';

/** A spectrum of a known material. */
export interface Reference {
  /** Name of the file, or of the column in it. */
  readonly name: string;
  readonly material: string;
  readonly family: string;
  readonly spectrum: Spectrum;
  /** From the laboratory's own known materials: preferred at equal likeness. */
  readonly own: boolean;
}
