/** What an empty filter would look like in this photograph: light, grain, print, rim. Everything is judged against it. */

import { type CellMedians, smoothMedians } from './background.ts';
import type { Finding } from './finding.ts';
import { type LevelNoise, localNoise } from './local-noise.ts';
import { modelPrint, type PrintModel } from './print-model.ts';
import { type FilterEdge, insideFilter } from './scale/edge.ts';
import type { Lattice } from './scale/lattice.ts';
import type { Survey } from './survey.ts';
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

/** `cells` are the medians of the survey's cells where they show membrane. */
export function membraneOf(
  survey: Survey,
  cells: CellMedians,
  lattice: Lattice | null,
  edge: FilterEdge | null,
): Membrane | null {
  const background = smoothMedians(cells);
  if (!background) return null;
  const print = modelPrint(survey, lattice, background);
  const noise = localNoise(survey, background, print, edge);
  return {
    width: survey.width,
    height: survey.height,
    channels: survey.channels,
    background,
    noise,
    print,
    lattice,
    edge,
  };
}

export const onFilter = (membrane: Membrane, x: number, y: number): boolean =>
  membrane.edge === null || insideFilter(membrane.edge, x, y);

export type Warnings = Finding['warnings'];
