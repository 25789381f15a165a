import { frameWeight, measureOutline, type Point } from '../science/imaging/index.ts';
import type { FindingRecord, Mark, ParticleId, ParticleRecord, Photo } from '../study/index.ts';
import { done, fraction, type Outcome, refused, um, um2 } from '../units/index.ts';
import type { Names } from './ports.ts';

type Measures = Pick<
  ParticleRecord,
  | 'outlinePx'
  | 'centroidPx'
  | 'areaPx2'
  | 'feretMaxPx'
  | 'feretMinPx'
  | 'areaUm2'
  | 'feretMaxUm'
  | 'feretMinUm'
  | 'equivalentDiameterUm'
  | 'perimeterUm'
  | 'circularity'
  | 'solidity'
  | 'fibreLengthUm'
  | 'fibreWidthUm'
  | 'touchesFrame'
  | 'square'
  | 'frameWeight'
>;

const centre = (outline: readonly Point[]): Point => {
  const sum = outline.reduce(([a, b], [x, y]) => [a + x, b + y] as const, [0, 0] as const);
  return [sum[0] / outline.length, sum[1] / outline.length];
};

/** Which printed square counts it (two sides in, two sides out), as far as the squares in view tell; null where none does. */
function squareOf(outline: readonly Point[], grid: FindingRecord['grid']): ParticleRecord['square'] {
  let column = Number.NEGATIVE_INFINITY;
  let row = Number.NEGATIVE_INFINITY;
  for (const { square, cornersPx } of grid) {
    const holds = outline.some(([x, y]) =>
      cornersPx.every(([ax, ay], i) => {
        const [bx, by] = cornersPx[(i + 1) % 4]!;
        return (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0;
      }),
    );
    if (!holds) continue;
    column = Math.max(column, square[0]);
    row = Math.max(row, square[1]);
  }
  return Number.isFinite(column) && Number.isFinite(row) ? [column, row] : null;
}

/**
 * What a drawn outline measures, with the photo's scale and printed squares; null when it encloses nothing. Length along a
 * middle line is left open, since a drawn outline has none.
 */
function measuresOf(
  outlinePx: readonly Point[],
  finding: Pick<FindingRecord, 'scale' | 'grid'>,
  photo: Pick<Photo, 'widthPx' | 'heightPx'>,
): Measures | null {
  const measured = measureOutline(outlinePx);
  if (!(measured.area > 0)) return null;
  const scale = finding.scale?.umPerPx ?? null;
  const length = (px: number) => (scale === null ? null : um(px * scale));
  const xs = outlinePx.map(([x]) => x);
  const ys = outlinePx.map(([, y]) => y);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const cut = left <= 0.75 || top <= 0.75 || right >= photo.widthPx - 0.75 || bottom >= photo.heightPx - 0.75;
  const fits = right - left < photo.widthPx && bottom - top < photo.heightPx;
  return {
    outlinePx,
    centroidPx: centre(outlinePx),
    areaPx2: measured.area,
    feretMaxPx: measured.feretMax,
    feretMinPx: measured.feretMin,
    areaUm2: scale === null ? null : um2(measured.area * scale * scale),
    feretMaxUm: length(measured.feretMax),
    feretMinUm: length(measured.feretMin),
    equivalentDiameterUm: length(Math.sqrt((4 * measured.area) / Math.PI)),
    perimeterUm: length(measured.perimeter),
    circularity: measured.circularity,
    solidity: measured.solidity,
    fibreLengthUm: null,
    fibreWidthUm: null,
    touchesFrame: cut,
    square: squareOf(outlinePx, finding.grid),
    frameWeight: fits ? frameWeight(photo.widthPx, photo.heightPx, right - left, bottom - top) : 1,
  };
}

const noArea = (kind: string, index: number) =>
  refused({
    why: 'no-area',
    message: `mark (${kind}): outline ${index + 1} has no area; draw it round the piece.`,
  });

/**
 * The pieces that a split, merge or redraw puts in place of what was found; none for other marks. They are measured
 * anew from the drawn outline; name, colour and evidence are those of the largest piece that they come from.
 */
export function drawPieces(
  mark: Mark,
  from: readonly ParticleRecord[],
  finding: FindingRecord,
  photo: Photo,
  numbered: number,
  names: Names,
): Outcome<readonly ParticleRecord[]> {
  const { decision } = mark;
  const outlines =
    decision.kind === 'split'
      ? decision.outlines
      : decision.kind === 'merge' || decision.kind === 'redraw'
        ? [decision.outline]
        : [];
  const largest = [...from].sort((a, b) => b.areaPx2 - a.areaPx2)[0]!;
  const pieces: ParticleRecord[] = [];
  for (const [index, outlinePx] of outlines.entries()) {
    const measures = measuresOf(outlinePx, finding, photo);
    if (measures === null) return noArea(decision.kind, index);
    pieces.push({
      ...largest,
      ...measures,
      id: names.next(),
      number: numbered + index + 1,
      drawnBy: mark.id,
      standing: 'kept',
      countsOn: null,
      shape: largest.shapeNow,
      shapeNow: largest.shapeNow,
      shapeBecause: `drawn by hand (${decision.kind}) from piece ${largest.number}`,
      colour: largest.colourNow,
      colourNow: largest.colourNow,
      certainty: { ...largest.certainty, real: fraction(1) },
    });
  }
  return done(pieces);
}

/** The piece of a mark that draws one where the program found none: evidence of the program it has none, and says so. */
export function drawnPiece(
  mark: Mark,
  finding: FindingRecord,
  photo: Photo,
  numbered: number,
): Outcome<ParticleRecord> {
  const { decision } = mark;
  if (decision.kind !== 'draw')
    throw new RangeError(`drawn piece: a drawing mark is needed; ${decision.kind}`);
  const measures = measuresOf(decision.outline, finding, photo);
  if (measures === null) return noArea('draw', 0);
  const { shape, colour, lab } = decision;
  return done({
    ...measures,
    id: mark.particles[0] as ParticleId,
    finding: finding.id,
    photo: mark.photo,
    number: numbered + 1,
    drawnBy: mark.id,
    standing: 'kept',
    countsOn: null,
    shape,
    shapeNow: shape,
    shapeBecause: 'drawn by hand; the program did not find it',
    colour,
    colourNow: colour,
    lab,
    certainty: { lightness: 0, colour: 0, ridge: 0, real: fraction(1) },
  });
}
