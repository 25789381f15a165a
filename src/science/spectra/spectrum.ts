/** Which effect was measured. The two are never compared with one another. */
export type Technique = 'infrared' | 'raman';

/** A spectrum as its file states it: nothing converted, nothing assumed. */
export interface RawSpectrum {
  readonly title: string;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** As written in the file; null where the file is silent. */
  readonly xUnit: string | null;
  readonly yUnit: string | null;
  /** Other words of the file that may tell the technique, such as a data type. */
  readonly remarks: readonly string[];
  /** What of the file was passed over, in plain words. */
  readonly passedOver?: string;
}

/** A spectrum that can be compared: ascending axis in cm⁻¹, bands pointing upwards. */
export interface Spectrum {
  readonly title: string;
  readonly technique: Technique;
  /** Wavenumber (infrared) or Raman shift, cm⁻¹, strictly ascending. */
  readonly axis: Float64Array;
  /** Absorbance, or Raman intensity in the file's own unit. */
  readonly height: Float64Array;
  /** What was not written in the file and had to be taken as given, in plain words. */
  readonly taken: readonly string[];
}
