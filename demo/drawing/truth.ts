import type { Spot } from './outline-measures.ts';

/** What a drawn thing stands for. Only `synthetic` pieces ought to be kept when marking; the others lie on the filter all the same. */
export type Origin = 'synthetic' | 'plant' | 'dust';

/** One thing that truly lies on the drawn filter, measured exactly from what was drawn. */
export interface TruePiece {
  readonly id: number;
  readonly origin: Origin;
  readonly shape: 'fragment' | 'fibre' | 'film' | 'foam' | 'bead';
  readonly colour: string;
  readonly outline_px: readonly Spot[];
  readonly centroid_px: Spot;
  readonly area_um2: number;
  readonly feret_max_um: number;
  readonly feret_min_um: number;
  readonly feret_max_px: number;
  readonly fibre_length_um: number | null;
  readonly fibre_width_um: number | null;
  /** Middle line of a fibre in the photograph. */
  readonly fibre_line_px: readonly Spot[] | null;
  /** Lies on the printed ink, at least in part. */
  readonly on_line: boolean;
  /** Pieces with the same number touch; null for one alone. */
  readonly cluster: number | null;
  readonly touches_frame: boolean;
  /** Printed square, counted from the first whole one in the photograph, that holds the centre; null outside whole squares. */
  readonly square: readonly [column: number, row: number] | null;
}

/** A thing that is no particle and should not be found. */
export interface Decoy {
  readonly kind: 'droplet-ring' | 'scratch' | 'stain' | 'ink-speck' | 'glare';
  readonly centroid_px: Spot;
  readonly radius_px: number;
}

/** The truth beside a drawn photograph. */
export interface PhotoTruth {
  readonly format: 'retentate/drawn-truth/1';
  readonly invented: string;
  readonly photo: { readonly name: string; readonly width_px: number; readonly height_px: number };
  readonly seed: number;
  readonly scale: {
    /** At the middle of the photograph; null where no grid is printed and nothing tells the scale. */
    readonly um_per_px: number;
    readonly pitch_mm: number | null;
    readonly rotation_deg: number;
    /** r′ = r (1 + k r²) with r from the middle in units of half the diagonal; above 0 is pincushion. */
    readonly distortion: number;
  };
  readonly whole_squares: readonly (readonly [column: number, row: number])[];
  readonly clogged: boolean;
  readonly pieces: readonly TruePiece[];
  readonly decoys: readonly Decoy[];
}

export const INVENTED =
  'Invented: drawn by a program for demonstration and testing; no filter was photographed.';
