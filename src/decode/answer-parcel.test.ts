import { describe, expect, it } from 'vitest';
import type { Piece, Point } from '../science/imaging/index.ts';
import { packedPieces, unpackedPieces } from './answer-parcel.ts';

const outline: Point[] = [
  [1.25, 2.5],
  [9.75, 2.5],
  [5.5, 8.125],
];
const body: Piece = {
  outline,
  line: null,
  lineWidth: null,
  lab: [60, 10, -20],
  manyHued: false,
  seeThrough: false,
  contrast: 0.3,
  mottle: 0.1,
  highlight: false,
  touchesFrame: true,
  evidence: { lightness: 12, colour: 4, ridge: 0, sharpness: 1, onPrint: 0.25 },
};
const fibre: Piece = {
  ...body,
  outline: outline.toReversed(),
  line: [outline[0]!, outline[1]!],
  lineWidth: 3.5,
};

describe('pieces on their way between threads', () => {
  it('come out as they went in, region by region, with and without a line', () => {
    const regions = [[body, fibre], [], [fibre], [body]];
    const parcel = structuredClone(packedPieces(regions));
    expect(parcel.points).toHaveLength(2 * (4 * 3 + 2 * 2));
    expect(unpackedPieces(parcel)).toEqual(regions);
  });
});
