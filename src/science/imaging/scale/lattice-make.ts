/** Puts a fitted map into words: scale, rotation, squares, and the functions that use them. */
import { type Millimetres, umPerPx } from '../../../units/index.ts';
import type { GridSquare, Point } from '../finding.ts';
import {
  type Lattice,
  type LatticeMap,
  mapGain,
  mapSlope,
  mapToGrid,
  mapToPhoto,
  mapUmPerPx,
  type Print,
  type PrintedLine,
} from './lattice.ts';

export interface LatticeFacts {
  readonly map: LatticeMap;
  readonly pitch: Millimetres;
  readonly relativeUncertainty: number;
  readonly print: Print;
  readonly lines: readonly PrintedLine[];
  readonly residualPx: number;
}

/** The range of columns and rows that the picture's border reaches. */
export function gridReach(map: LatticeMap, width: number, height: number) {
  let c0 = Number.POSITIVE_INFINITY;
  let c1 = Number.NEGATIVE_INFINITY;
  let r0 = c0;
  let r1 = c1;
  const steps = 16;
  for (let i = 0; i <= steps; i++) {
    const x = (width * i) / steps;
    const y = (height * i) / steps;
    for (const [px, py] of [
      [x, 0],
      [x, height],
      [0, y],
      [width, y],
    ] as const) {
      const [c, r] = mapToGrid(map, px, py);
      c0 = Math.min(c0, c);
      c1 = Math.max(c1, c);
      r0 = Math.min(r0, r);
      r1 = Math.max(r1, r);
    }
  }
  return { c0, c1, r0, r1 };
}

/** A map that a camera could have made: finite, not folded by its lens, with fewer than 500 lines either way. */
export function plausible(map: LatticeMap, width: number, height: number): boolean {
  const { c0, c1, r0, r1 } = gridReach(map, width, height);
  if (!(c1 - c0 < 500 && r1 - r0 < 500 && c1 - c0 > 0.2 && r1 - r0 > 0.2)) return false;
  const middle = mapGain(map, width / 2, height / 2);
  for (const [x, y] of [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ] as const) {
    const change = mapGain(map, x, y) / middle;
    if (!(change > 0.5 && change < 2)) return false;
  }
  return true;
}

function squaresInView(map: LatticeMap, width: number, height: number): GridSquare[] {
  const { c0, c1, r0, r1 } = gridReach(map, width, height);
  const inside = ([x, y]: Point) => x >= 0 && y >= 0 && x <= width && y <= height;
  const squares: GridSquare[] = [];
  for (let r = Math.floor(r0); r < r1; r++) {
    for (let c = Math.floor(c0); c < c1; c++) {
      const cornersPx = [
        mapToPhoto(map, c, r),
        mapToPhoto(map, c + 1, r),
        mapToPhoto(map, c + 1, r + 1),
        mapToPhoto(map, c, r + 1),
      ] as const;
      const whole = cornersPx.every(inside);
      if (whole || partlyInside(map, c, r, width, height)) squares.push({ square: [c, r], cornersPx, whole });
    }
  }
  return squares;
}

/** A coarse look at the square's own points: enough, as squares are far larger than a ninth of themselves. */
function partlyInside(map: LatticeMap, c: number, r: number, width: number, height: number): boolean {
  const n = 8;
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= n; i++) {
      const [x, y] = mapToPhoto(map, c + i / n, r + j / n);
      if (x > 0 && y > 0 && x < width && y < height) return true;
    }
  }
  return false;
}

/** Shifts the numbering by whole squares so that no square in view has a negative column or row. */
export function numberFromZero(map: LatticeMap, width: number, height: number): LatticeMap {
  const { c0, r0 } = gridReach(map, width, height);
  const dc = Math.floor(c0);
  const dr = Math.floor(r0);
  const h = map.plane;
  return {
    ...map,
    plane: [
      h[0] - dc * h[6],
      h[1] - dc * h[7],
      h[2] - dc,
      h[3] - dr * h[6],
      h[4] - dr * h[7],
      h[5] - dr,
      h[6],
      h[7],
    ],
  };
}

/** The lattice from its fitted facts; the map must already be numbered from zero. */
export function latticeFrom(facts: LatticeFacts, width: number, height: number): Lattice {
  const { map, pitch } = facts;
  const pitchUm = pitch * 1000;
  const [cx, cy, rx, ry] = mapSlope(map, width / 2, height / 2);
  // The direction along which the column grows and the row stands still.
  const det = cx * ry - cy * rx;
  const rotationDeg = (Math.atan2(-rx / det, ry / det) * 180) / Math.PI;
  return {
    ...facts,
    umPerPx: umPerPx(mapUmPerPx(map, pitch, width / 2, height / 2)),
    rotationDeg,
    squares: squaresInView(map, width, height),
    toGrid: ([x, y]) => mapToGrid(map, x, y),
    toPhoto: ([c, r]) => mapToPhoto(map, c, r),
    toUm: ([x, y]) => {
      const [c, r] = mapToGrid(map, x, y);
      return [c * pitchUm, r * pitchUm];
    },
    umPerPxAt: ([x, y]) => mapUmPerPx(map, pitch, x, y),
  };
}
