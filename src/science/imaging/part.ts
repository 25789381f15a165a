/** A part of a window, cut out with a little room around it. */
import type { Smoothed } from './region-window.ts';

export interface Part {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  /** 1 this part, 2 another part. */
  readonly whose: Uint8Array;
  readonly field: Float32Array;
  readonly z: Float32Array;
  readonly l: Float32Array;
  readonly a: Float32Array | null;
  readonly b: Float32Array | null;
  readonly contrast: Float32Array;
  /** Half of the height nearby. */
  readonly level: Float32Array;
  readonly zone: Uint8Array | null;
  readonly sigma: Smoothed['sigma'];
  readonly step: number;
  /** Each channel against the membrane in linear light, by `lightPlanes` when first asked for: of the window, whoever its pixels are given to. */
  readonly light: { planes: readonly Float32Array[] | null };
}
