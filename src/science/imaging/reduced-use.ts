/** What the pixels of the reduced picture may be used for when the empty membrane is told. */
import { type LinePlaces, zoneRow } from './print-model.ts';
import { type FilterEdge, insideFilter } from './scale/edge.ts';
import type { Survey } from './survey.ts';

export const MEMBRANE = 0;
export const PRINT = 1;
export const OUTSIDE = 2;

/** Where printed lines run, and half the breadth that their ink may take, px. */
export interface PrintZone {
  readonly lattice: LinePlaces;
  readonly halfBreadth: number;
}

/** Use of each reduced pixel of rows [from, to): membrane, print or outside the filter. Null when all is membrane. */
export function reducedUse(
  survey: Survey,
  zone: PrintZone | null,
  edge: FilterEdge | null,
  from: number,
  to: number,
): Uint8Array | null {
  const outside = edge !== null && !edge.everywhere;
  if (!zone && !outside) return null;
  const { width } = survey.reduced;
  const { factor } = survey;
  const use = new Uint8Array(width * (to - from));
  const printed = new Uint8Array(width);
  const half = zone ? zone.halfBreadth + factor / 2 : 0;
  for (let y = from; y < to; y++) {
    const py = (y + 0.5) * factor;
    const row = (y - from) * width;
    if (zone && zoneRow(zone.lattice, half, py - 0.5, factor / 2 - 0.5, factor, width, printed)) {
      for (let x = 0; x < width; x++) if (printed[x]) use[row + x] = PRINT;
    }
    if (!outside) continue;
    for (let x = 0; x < width; x++) {
      if (!insideFilter(edge, (x + 0.5) * factor, py)) use[row + x] = OUTSIDE;
    }
  }
  return use;
}
