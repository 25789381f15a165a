/** A piece as it is cut out of the photograph, in pixels, before scale and names. */

import type { Lab } from './colour-name.ts';
import type { Point } from './finding.ts';

export interface Piece {
  readonly outline: readonly Point[];
  /** Middle line of a thin piece. */
  readonly line: readonly Point[] | null;
  readonly lineWidth: number | null;
  readonly lab: Lab;
  /** Different hues inside. */
  readonly manyHued: boolean;
  /** Interior like the membrane, only the rim differs. */
  readonly seeThrough: boolean;
  readonly contrast: number;
  readonly mottle: number;
  readonly highlight: boolean;
  readonly touchesFrame: boolean;
  readonly evidence: Evidence;
  /** The nearest larger piece, where one is near. */
  readonly beside?: Beside;
}

export interface Beside {
  /** 1 where the outlines meet, falling to 0 within some tens of px. */
  readonly nearness: number;
  /** ln of the contrast against the neighbour's, at most 0; falls off faster. */
  readonly fainter: number;
}

/** In units of the local noise. */
export interface Evidence {
  readonly lightness: number;
  readonly colour: number;
  readonly ridge: number;
  /** Steepness of the rim as a part of the contrast, per px. */
  readonly sharpness: number;
  /** Share of the outline that lies in the print's zone. */
  readonly onPrint: number;
}
