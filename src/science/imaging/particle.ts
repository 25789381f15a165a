/** A piece with scale, names and place: what is reported. */
import { type MicrometresPerPixel, um, um2 } from '../../units/index.ts';
import { chanceReal } from './chance-real.ts';
import { nameColour } from './colour-name.ts';
import { countingSquare } from './counting-square.ts';
import { measureOutline } from './feret.ts';
import type { Particle } from './finding.ts';
import { frameWeight } from './frame-weight.ts';
import type { Membrane } from './membrane.ts';
import { lineCentre } from './outline.ts';
import type { Piece } from './piece.ts';
import { mapUmPerPx } from './scale/lattice.ts';
import { callShape } from './shape-class.ts';

export function particleFrom(
  piece: Piece,
  membrane: Membrane,
  scale: MicrometresPerPixel | null,
): Particle | null {
  const { outline } = piece;
  const m = measureOutline(outline);
  if (!(m.area > 0)) return null;
  const lengthPx = piece.line && piece.lineWidth ? m.area / piece.lineWidth : null;
  const call = callShape({
    ...m,
    lineLength: lengthPx,
    lineWidth: piece.lineWidth,
    contrast: piece.contrast,
    mottle: piece.mottle,
    highlight: piece.highlight,
    resolved: m.area / 12,
  });
  const fibre = call.shape === 'fibre' && lengthPx !== null;
  let x0 = Number.POSITIVE_INFINITY,
    x1 = 0,
    y0 = x0,
    y1 = 0;
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  const centroidPx = lineCentre(outline);
  // Lens and tilt make a pixel worth more or less from place to place.
  const here =
    scale === null
      ? null
      : membrane.lattice && scaleIsPrinted(membrane, scale)
        ? mapUmPerPx(membrane.lattice.map, membrane.lattice.pitch, centroidPx[0], centroidPx[1])
        : scale;
  return {
    outlinePx: outline,
    centroidPx,
    areaPx2: m.area,
    feretMaxPx: m.feretMax,
    feretMinPx: m.feretMin,
    areaUm2: here === null ? null : um2(m.area * here * here),
    feretMaxUm: umOf(m.feretMax, here),
    feretMinUm: umOf(m.feretMin, here),
    equivalentDiameterUm: umOf(Math.sqrt((4 * m.area) / Math.PI), here),
    perimeterUm: umOf(m.perimeter, here),
    circularity: m.circularity,
    solidity: m.solidity,
    fibreLengthUm: fibre ? umOf(lengthPx, here) : null,
    fibreWidthUm: fibre ? umOf(piece.lineWidth!, here) : null,
    shape: call.shape,
    shapeBecause: call.because,
    colour: piece.manyHued ? 'multicoloured' : nameColour(piece.lab, piece.seeThrough),
    lab: piece.lab,
    touchesFrame: piece.touchesFrame,
    square: countingSquare(outline, membrane.lattice),
    frameWeight:
      x1 - x0 < membrane.width && y1 - y0 < membrane.height
        ? frameWeight(membrane.width, membrane.height, x1 - x0, y1 - y0)
        : 1,
    certainty: {
      lightness: piece.evidence.lightness,
      colour: piece.evidence.colour,
      ridge: piece.evidence.ridge,
      real: chanceReal(piece),
    },
  };
}

/** A length in micrometres; null without a scale. */
const umOf = (px: number, here: number | null) => (here === null ? null : um(px * here));

const scaleIsPrinted = (membrane: Membrane, scale: MicrometresPerPixel): boolean =>
  membrane.lattice !== null && membrane.lattice.umPerPx === scale;
