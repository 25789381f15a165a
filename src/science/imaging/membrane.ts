/** What an empty filter would look like in this photograph: light, grain, print, rim. Everything is judged against it. */

import type { LevelNoise } from './local-noise.ts';
import type { PrintModel } from './print-model.ts';
import type { FilterEdge } from './scale/edge.ts';
import type { Lattice } from './scale/lattice.ts';
import type { TileField } from './tile-field.ts';

export interface Membrane {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly background: readonly TileField[];
  readonly noise: readonly LevelNoise[];
  readonly print: PrintModel | null;
  readonly lattice: Lattice | null;
  readonly edge: FilterEdge | null;
  /** Blur of the optics at the photograph's sharper edges, standard deviation, px. */
  readonly blurPx?: number;
}
