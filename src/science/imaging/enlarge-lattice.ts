/** A lattice found on a reduced picture, said in pixels of the photograph. */

import type { FilterEdge } from './scale/edge.ts';
import type { Lattice } from './scale/lattice.ts';
import { latticeFrom } from './scale/lattice-make.ts';

export function enlargeLattice(lattice: Lattice, factor: number, width: number, height: number): Lattice {
  if (factor === 1) return lattice;
  const { map, print } = lattice;
  return latticeFrom(
    {
      pitch: lattice.pitch,
      relativeUncertainty: lattice.relativeUncertainty,
      residualPx: lattice.residualPx * factor,
      map: { ...map, centre: [map.centre[0] * factor, map.centre[1] * factor], radius: map.radius * factor },
      print: { ...print, widthPx: print.widthPx * factor, profileStep: print.profileStep * factor },
      lines: lattice.lines.map((l) => ({ ...l, widthPx: l.widthPx * factor, offsetPx: l.offsetPx * factor })),
    },
    width,
    height,
  );
}

export function enlargeEdge(edge: FilterEdge, factor: number): FilterEdge {
  if (factor === 1) return edge;
  const { circle, mask } = edge;
  return {
    ...edge,
    circle: circle && {
      centre: [circle.centre[0] * factor, circle.centre[1] * factor],
      radiusPx: circle.radiusPx * factor,
    },
    mask: { ...mask, step: mask.step * factor },
  };
}
