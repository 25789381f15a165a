import { type Canvas, overCover, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { addPolygon, type Cover, softened } from './coverage.ts';
import { grainTiles, noiseAt } from './grain.ts';
import type { Lens } from './lens.ts';
import type { Spot } from './outline-measures.ts';

export interface Print {
  readonly pitchUm: number;
  /** A crossing of two lines on the filter, µm from under the middle of the photograph. */
  readonly crossing: Spot;
  readonly lineUm: number;
  /** Share of the light that the ink takes, by channel. */
  readonly ink: Rgb;
  /** How broken the ink is: 0 whole, 1 mostly gone. */
  readonly broken: number;
}

/** Smooth wander along a line: a few sines with unrelated periods. */
function wander(chance: Chance, size: number): (t: number) => number {
  const waves = [2100, 830, 310, 140].map((period) => ({
    turn: (2 * Math.PI) / (period * chance.between(0.8, 1.25)),
    phase: chance.between(0, 6.28),
    size: size * chance.between(0.2, 0.6),
  }));
  return (t) => waves.reduce((sum, w) => sum + w.size * Math.sin(t * w.turn + w.phase), 0);
}

/** Prints the squares and returns the ink's coverage of the photograph (before wear), for the truth. */
export function printSquares(canvas: Canvas, lens: Lens, print: Print, chance: Chance): Cover {
  const { width, height } = canvas;
  const ink: Cover = { left: 0, top: 0, width, height, share: new Float32Array(width * height) };
  const reach = Math.hypot(width, height) * 0.53 * lens.umPerPx;
  for (const upright of [true, false]) {
    const centre = upright ? print.crossing[0] : print.crossing[1];
    const first = Math.ceil((-reach - centre) / print.pitchUm);
    const last = Math.floor((reach - centre) / print.pitchUm);
    for (let n = first; n <= last; n++) {
      drawLine(ink, lens, centre + n * print.pitchUm, upright, print.lineUm, reach, chance);
    }
  }
  const bled = softened(ink, 1, 1);
  const tiles = grainTiles();
  const ox = chance.whole(0, 300);
  const oy = chance.whole(0, 300);
  const { light } = canvas;
  const [r, g, b] = print.ink;
  overCover(canvas, bled, (at, _i, share, x, y) => {
    const speck = 0.6 * noiseAt(tiles.fine, x + ox, y + oy) + 0.5 * noiseAt(tiles.felt, x + oy, y + ox);
    const gap = noiseAt(tiles.coarse, x + ox, y + oy) + 0.7 * noiseAt(tiles.middle, x + ox, y + oy);
    const worn = Math.min(1, Math.max(0, (gap + 2.6 - 3.4 * print.broken) / 1.2));
    const dose = share * Math.min(1.05, Math.max(0, 0.92 + 0.1 * speck)) * (1 - print.broken * 0.25) * worn;
    light[at] = light[at]! * (1 - r * dose);
    light[at + 1] = light[at + 1]! * (1 - g * dose);
    light[at + 2] = light[at + 2]! * (1 - b * dose);
  });
  return ink;
}

function drawLine(
  ink: Cover,
  lens: Lens,
  centre: number,
  upright: boolean,
  lineUm: number,
  reach: number,
  chance: Chance,
): void {
  const side = wander(chance, lineUm * 0.05);
  const half = wander(chance, lineUm * 0.06);
  const edge = (t: number, sign: number): Spot => {
    const across = centre + side(t) + sign * (lineUm / 2 + half(t));
    return upright ? lens.toPhoto(across, t) : lens.toPhoto(t, across);
  };
  const step = 60 * lens.umPerPx;
  for (let t = -reach; t < reach; t += step) {
    const corners: Spot[] = [];
    for (let i = 0; i <= 6; i++) corners.push(edge(t + (step * i) / 6, -1));
    for (let i = 6; i >= 0; i--) corners.push(edge(t + (step * i) / 6, 1));
    if (corners.some(([x, y]) => x > -9 && y > -9 && x < ink.width + 9 && y < ink.height + 9)) {
      addPolygon(ink, corners);
    }
  }
}
