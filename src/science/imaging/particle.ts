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
        ? membrane.lattice.umPerPxAt(centroidPx)
        : scale;
  const length = (n: number) => (here === null ? null : um(n * here));
  return {
    outlinePx: outline,
    centroidPx,
    areaPx2: m.area,
    feretMaxPx: m.feretMax,
    feretMinPx: m.feretMin,
    areaUm2: here === null ? null : um2(m.area * here * here),
    feretMaxUm: length(m.feretMax),
    feretMinUm: length(m.feretMin),
    equivalentDiameterUm: length(Math.sqrt((4 * m.area) / Math.PI)),
    perimeterUm: length(m.perimeter),
    circularity: m.circularity,
    solidity: m.solidity,
    fibreLengthUm: fibre ? length(lengthPx) : null,
    fibreWidthUm: fibre ? length(piece.lineWidth!) : null,
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

const scaleIsPrinted = (membrane: Membrane, scale: MicrometresPerPixel): boolean =>
  membrane.lattice !== null && membrane.lattice.umPerPx === scale;
