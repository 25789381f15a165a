import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../maths/index.ts';
import type { Picture } from '../finding.ts';
import { DRAWN_SHAPES, knownPiece, widest } from './known-piece.ts';
import { coverOf, stampPiece } from './stamp-piece.ts';

const sum = (values: Float32Array) => values.reduce((s, v) => s + v, 0);

function flat(level: number): Picture {
  return {
    width: 120,
    height: 100,
    channels: 3,
    data: new Uint16Array(120 * 100 * 3).fill(level),
    full: 65535,
  };
}

describe('known pieces', () => {
  it('have the size that was asked for', () => {
    const chance = chanceFrom(3);
    for (const shape of DRAWN_SHAPES) {
      for (const size of [6, 40, 150]) {
        const piece = knownPiece(shape, size, 3, chance);
        expect(widest(piece.line) + piece.widthPx).toBeCloseTo(size, 6);
      }
    }
  });

  it('cover a disc of πr² and a fibre of about length times width, blurred or not', () => {
    const chance = chanceFrom(4);
    const bead = knownPiece('bead', 30, 0, chance);
    for (const blur of [0, 1.3, 3]) {
      const cover = coverOf(bead, [60.3, 50.7], blur);
      // A polygon of 48 corners has (48/2π)·sin(2π/48) = 0.99715 of the disc.
      expect(sum(cover.share) / (Math.PI * 225 * 0.99715)).toBeCloseTo(1, 2);
    }
    const fibre = knownPiece('fibre', 60, 2.4, chance);
    let length = 0;
    for (let i = 1; i < fibre.line.length; i++) {
      length += Math.hypot(
        fibre.line[i]![0] - fibre.line[i - 1]![0],
        fibre.line[i]![1] - fibre.line[i - 1]![1],
      );
    }
    const area = length * 2.4 + Math.PI * 1.2 ** 2;
    expect(Math.abs(sum(coverOf(fibre, [60, 50], 1).share) / area - 1)).toBeLessThan(0.04);
  });

  it('keep their light when thinner than a pixel', () => {
    const thin = knownPiece('fibre', 50, 0.1, chanceFrom(8));
    const wide = { ...thin, widthPx: 0.2 };
    const ratio = sum(coverOf(thin, [60, 50], 1).share) / sum(coverOf(wide, [60, 50], 1).share);
    expect(ratio).toBeCloseTo(0.5, 2);
  });
});

describe('drawing a piece into a photograph', () => {
  const look = { change: [-0.5, -0.25, 0] as const, opacity: 1 };

  it('changes each channel by its share of the membrane, at the middle, and nothing far off', () => {
    const picture = flat(40_000);
    const piece = knownPiece('fragment', 40, 0, chanceFrom(5));
    stampPiece(picture, piece, [60, 50], look, 1, chanceFrom(6));
    const at = (x: number, y: number, c: number) => picture.data[(y * 120 + x) * 3 + c]!;
    expect(at(60, 50, 0) / 40_000).toBeCloseTo(0.5, 1);
    expect(at(60, 50, 1) / 40_000).toBeCloseTo(0.75, 1);
    expect(at(60, 50, 2) / 40_000).toBeCloseTo(1, 1);
    expect(at(5, 5, 0)).toBe(40_000);
    expect(at(115, 95, 0)).toBe(40_000);
  });

  it('is the same for the same seed and stays inside the picture', () => {
    const draw = () => {
      const picture = flat(30_000);
      stampPiece(picture, knownPiece('bead', 50, 0, chanceFrom(1)), [5, 95], look, 1.5, chanceFrom(2));
      return picture.data;
    };
    expect(draw()).toEqual(draw());
  });
});
