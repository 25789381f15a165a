import { measureOutline, type Point } from '../science/imaging/index.ts';
import type { FindingRecord, Mark, ParticleRecord } from '../study/index.ts';
import { done, fraction, type Outcome, refused, um, um2 } from '../units/index.ts';
import type { Names } from './ports.ts';

const centre = (outline: readonly Point[]): Point => {
  const sum = outline.reduce(([a, b], [x, y]) => [a + x, b + y] as const, [0, 0] as const);
  return [sum[0] / outline.length, sum[1] / outline.length];
};

/**
 * The pieces that a split, merge or redraw puts in place of what was found; none for other marks. They are measured
 * anew from the drawn outline with the photo's scale; name, colour and evidence are those of the piece that they come from,
 * and length along a middle line is left open, since a drawn outline has none.
 */
export function drawPieces(
  mark: Mark,
  from: readonly ParticleRecord[],
  finding: FindingRecord,
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
    const measured = measureOutline(outlinePx);
    if (!(measured.area > 0)) {
      return refused({
        why: 'no-area',
        message: `mark (${decision.kind}): outline ${index + 1} has no area; draw it round the piece.`,
      });
    }
    const scale = finding.scale?.umPerPx ?? null;
    const length = (px: number) => (scale === null ? null : um(px * scale));
    pieces.push({
      ...largest,
      id: names.next(),
      number: numbered + index + 1,
      drawnBy: mark.id,
      standing: 'kept',
      shape: largest.shapeNow,
      shapeNow: largest.shapeNow,
      shapeBecause: `drawn by hand (${decision.kind}) from piece ${largest.number}`,
      colour: largest.colourNow,
      colourNow: largest.colourNow,
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
      certainty: { ...largest.certainty, real: fraction(1) },
    });
  }
  return done(pieces);
}
