import { describe, expect, it } from 'vitest';
import { chanceReal } from './chance-real.ts';
import type { Point } from './finding.ts';
import { healAcrossPrint } from './heal-print.ts';
import { joinFibres } from './join-fibres.ts';
import { joinTouching } from './join-touching.ts';
import { wayLength } from './middle-line.ts';
import { isRim, ringPieces } from './not-particles.ts';
import { insideLine, lineArea } from './outline.ts';
import type { Piece } from './piece.ts';
import { ribbon } from './ribbon.ts';

const look = {
  lab: [40, 10, -30] as const,
  manyHued: false,
  seeThrough: false,
  contrast: 0.4,
  mottle: 0.4,
  highlight: false,
  touchesFrame: false,
  evidence: { lightness: 40, colour: 20, ridge: 0, sharpness: 1.2, onPrint: 0 },
};
const clockwise = (outline: Point[]): Point[] => (lineArea(outline) < 0 ? outline.reverse() : outline);
const fibre = (line: Point[], width = 3): Piece => ({
  ...look,
  line,
  lineWidth: width,
  outline: clockwise(ribbon(line, width / 2)),
});
const body = (corners: Point[], onPrint = 0): Piece => {
  const outline = corners.flatMap(([x, y], i) => {
    const [u, v] = corners[(i + 1) % corners.length]!;
    const n = Math.max(1, Math.round(Math.hypot(u - x, v - y)));
    return Array.from({ length: n }, (_, k) => [x + ((u - x) * k) / n, y + ((v - y) * k) / n] as const);
  });
  return {
    ...look,
    line: null,
    lineWidth: null,
    outline: clockwise(outline),
    evidence: { ...look.evidence, onPrint },
  };
};
const along = (from: Point, angle: number, length: number, turn = 0): Point[] => {
  let [x, y] = from;
  let a = angle;
  return Array.from({ length: length + 1 }, () => {
    const at = [x, y] as const;
    x += Math.cos(a);
    y += Math.sin(a);
    a += turn;
    return at;
  });
};
const nowhere = { holds: () => false };
/** Print over x from 40 to 60. */
const print = { holds: (x: number) => x >= 40 && x <= 60 };

describe('joinFibres', () => {
  it('joins ends that face each other across a faint stretch, and keeps the whole length', () => {
    const joined = joinFibres([fibre(along([0, 0], 0, 60)), fibre(along([75, 0], 0, 60))], nowhere, 0);
    expect(joined).toHaveLength(1);
    expect(wayLength(joined[0]!.line!)).toBeCloseTo(135, 0);
  });

  it('follows one bow, and a sharp bend whose ends touch', () => {
    const bow = along([0, 0], -0.6, 120, 0.01);
    expect(joinFibres([fibre(bow.slice(0, 55)), fibre(bow.slice(70))], nowhere, 0)).toHaveLength(1);
    const bend = [fibre(along([0, 0], 0, 60)), fibre(along([61, 1], 1.4, 60))];
    expect(joinFibres(bend, nowhere, 0)).toHaveLength(1);
  });

  it('leaves fibres apart that pass beside each other, meet square at a distance, or differ in width', () => {
    const first = fibre(along([0, 0], 0, 60));
    expect(joinFibres([first, fibre(along([60, 12], 0, 60))], nowhere, 0)).toHaveLength(2);
    expect(joinFibres([first, fibre(along([70, 0], 1.5, 60))], nowhere, 0)).toHaveLength(2);
    expect(joinFibres([first, fibre(along([64, 0], 0, 60), 12)], nowhere, 0)).toHaveLength(2);
    expect(joinFibres([first, fibre(along([110, 0], 0, 60))], nowhere, 0)).toHaveLength(2);
  });

  it('joins across print whatever ink does to the colour, and takes in the bit found on it', () => {
    const right: Piece = { ...fibre(along([62, 0], 0, 60)), lab: [80, -20, 40] };
    const bit = body(
      [
        [47, -2],
        [53, -2],
        [53, 2],
        [47, 2],
      ],
      1,
    );
    const joined = joinFibres([fibre(along([-20, 0], 0, 58)), right, bit], print, 20);
    expect(joined).toHaveLength(1);
    expect(wayLength(joined[0]!.line!)).toBeCloseTo(142, 0);
  });

  it('does not swallow a body that merely lies near an end', () => {
    const lump = body([
      [66, -12],
      [90, -12],
      [90, 12],
      [66, 12],
    ]);
    expect(joinFibres([fibre(along([0, 0], 0, 60)), lump], nowhere, 0)).toHaveLength(2);
  });
});

describe('healAcrossPrint', () => {
  const left = body([
    [10, 0],
    [40, 0],
    [40, 30],
    [10, 30],
  ]);
  const on = body(
    [
      [41, 0],
      [60, 0],
      [60, 30],
      [41, 30],
    ],
    0.6,
  );
  const right = body([
    [61, 0],
    [90, 0],
    [90, 30],
    [61, 30],
  ]);

  it('puts parts together that the rim of the print cut', () => {
    const healed = healAcrossPrint([left, on, right], print, 20);
    expect(healed).toHaveLength(1);
    expect(Math.abs(lineArea(healed[0]!.outline)) / (80 * 30)).toBeCloseTo(1, 1);
  });

  it('bridges a printed line on which nothing was found when the colours agree', () => {
    const healed = healAcrossPrint([left, right], print, 20);
    expect(healed).toHaveLength(1);
    expect(insideLine(healed[0]!.outline, 50, 15)).toBe(true);
    const other: Piece = { ...right, lab: [80, 60, 40] };
    expect(healAcrossPrint([left, other], print, 20)).toHaveLength(2);
  });

  it('leaves pieces that touch away from the rim of the print', () => {
    const beside = body([
      [10, 31],
      [38, 31],
      [38, 60],
      [10, 60],
    ]);
    expect(healAcrossPrint([left, beside], print, 20)).toHaveLength(2);
  });
});

describe('isRim', () => {
  const inside = (x: number, y: number) => Math.hypot(x - 200, y) < 160;

  it('is told of a sliver along the rim, not of a piece well on the filter or reaching up to it', () => {
    const sliver = body(along([41, -20], Math.PI / 2, 40).concat(along([43, 20], -Math.PI / 2, 40)));
    expect(isRim(sliver, inside)).toBe(true);
    const piece = body([
      [44, -10],
      [80, -10],
      [80, 10],
      [44, 10],
    ]);
    expect(isRim(piece, inside)).toBe(false);
  });
});

describe('chanceReal', () => {
  const plain = fibre(along([0, 0], 0, 60));
  const with_ = (evidence: Partial<Piece['evidence']>): Piece => ({
    ...plain,
    evidence: { ...plain.evidence, ...evidence },
  });

  it('rises with strength and sharpness, falls on print, and stays a chance', () => {
    expect(chanceReal(with_({ lightness: 80 }))).toBeGreaterThan(chanceReal(plain));
    expect(chanceReal(with_({ sharpness: 0.5 }))).toBeLessThan(chanceReal(plain));
    expect(chanceReal(with_({ onPrint: 1 }))).toBeLessThan(chanceReal(plain));
    const none = chanceReal(with_({ lightness: 0, colour: 0 }));
    expect(none).toBeGreaterThan(0);
    expect(none).toBeLessThan(0.2);
  });
});

describe('joinTouching', () => {
  const square = (x: number, y: number, size: number, onPrint = 0) =>
    body(
      [
        [x, y],
        [x + size, y],
        [x + size, y + size],
        [x, y + size],
      ],
      onPrint,
    );

  it('makes one of a faint piece that was found in halves, side along side', () => {
    const faint = { contrast: 0.03 };
    const whole = joinTouching(
      [
        { ...square(0, 0, 20), ...faint },
        { ...square(21, 0, 20), ...faint },
      ],
      nowhere,
    );
    expect(whole).toHaveLength(1);
    expect(Math.abs(lineArea(whole[0]!.outline))).toBeGreaterThan(800);
  });

  it('takes a part that lies within a piece into it', () => {
    expect(joinTouching([square(0, 0, 40), square(10, 10, 6)], nowhere)).toHaveLength(1);
  });

  it('takes a part that begins at the rim of the print into the piece beside it', () => {
    const beside = square(19, 0, 20);
    const on = square(40, 0, 20, 1);
    expect(joinTouching([beside, on], print)).toHaveLength(1);
  });

  it('leaves two plain pieces that touch at a corner', () => {
    expect(joinTouching([square(0, 0, 20), square(20.5, 18, 20)], nowhere)).toHaveLength(2);
  });

  it('leaves a piece of another colour beside a plain one', () => {
    const other = { ...square(20.5, 12, 20), lab: [60, 60, 40] as const };
    expect(joinTouching([square(0, 0, 20), other], nowhere)).toHaveLength(2);
  });
});

describe('ringPieces', () => {
  /** Arc of a circle of radius 30 px over so many radians. */
  const arc = (radians: number, width: number, contrast: number): Piece => ({
    ...fibre(along([0, 0], 0, Math.round(30 * radians), 1 / 30), width),
    contrast,
  });

  it('refuses a faint thin arc that goes most of the way round', () => {
    expect(ringPieces([arc(4, 3, 0.06)]).size).toBe(1);
  });

  it('keeps a bent piece: plain or broad for its bow', () => {
    expect(ringPieces([arc(4, 3, 0.5)]).size).toBe(0);
    expect(ringPieces([arc(4, 9, 0.06)]).size).toBe(0);
  });

  it('refuses even a plain ring that closes', () => {
    expect(ringPieces([arc(6.1, 3, 0.5)]).size).toBe(1);
  });
});
