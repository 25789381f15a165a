/**
 * How much empty membrane itself varies at each place and each smoothing level: grain, sensor noise, compression.
 * Detection is in these units, so a coarse membrane raises its own threshold.
 */

import { inkOf, takeOffInk, WEIGHTS } from './lightness.ts';
import { fromLine, type PrintModel } from './print-model.ts';
import { medianInPlace, quantileOfSorted, tailedSpread } from './robust.ts';
import type { FilterEdge } from './scale/edge.ts';
import { insideFilter } from './scale/edge.ts';
import type { Survey } from './survey.ts';
import { fieldsAt, type TileField } from './tile-field.ts';

const CELL = 256;

/** Standard deviations of one level: lightness and the two opponent channels, as parts of the membrane's white. */
export interface LevelNoise {
  readonly lightness: TileField;
  /** Null for a grey picture. */
  readonly redGreen: TileField | null;
  readonly blueYellow: TileField | null;
  /** How many times as much the print's zone varies, in lightness and in colour, once the print is taken out. */
  readonly onPrint: readonly [lightness: number, colour: number];
}

/**
 * Compressed photographs hold colour in steps of a code over whole blocks: most places are alike, some are one step off.
 * Nothing averages that away, so the noise of colour never counts as less than this many codes. A code weighs more on a
 * dark membrane, against which everything is measured.
 */
const COLOUR_CODES = 0.75;

/** Where samples go when they are put in order of their cells: those of cell k from start[k] on. */
interface CellOrder {
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  readonly start: Int32Array;
  readonly place: Int32Array;
}

function cellOrder(survey: Survey, x: Float32Array, y: Float32Array, n: number): CellOrder {
  const columns = Math.max(1, Math.round(survey.width / CELL));
  const rows = Math.max(1, Math.round(survey.height / CELL));
  const cell = Math.max(survey.width / columns, survey.height / rows);
  const start = new Int32Array(columns * rows + 2);
  const home = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    const i = Math.min(columns - 1, Math.floor(x[k]! / cell));
    const j = Math.min(rows - 1, Math.floor(y[k]! / cell));
    home[k] = j * columns + i;
    start[home[k]! + 2]!++;
  }
  for (let k = 2; k < start.length; k++) start[k]! += start[k - 1]!;
  const place = home;
  for (let k = 0; k < n; k++) place[k] = start[home[k]! + 1]!++;
  return { cell, columns, rows, start, place };
}

/** Cells with few samples take the value of the `whole` photograph, the others lean on it by its weight of 60 samples. */
function cellSpread(order: CellOrder, value: Float32Array, whole: number, least: number): TileField {
  const { cell, columns, rows, start, place } = order;
  const floor = Math.max(least, whole * 0.25);
  const ordered = new Float32Array(place.length);
  for (let k = 0; k < place.length; k++) ordered[place[k]!] = value[k]!;
  const raw = Float64Array.from({ length: columns * rows }, (_, k) => {
    const own = ordered.subarray(start[k]!, start[k + 1]!);
    const m = own.length;
    const spread = m >= 8 ? tailedSpread(own) : whole;
    return Math.sqrt((spread * spread * m + whole * whole * 60) / (m + 60));
  });
  const values = new Float32Array(columns * rows);
  const near = new Float64Array(9);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      let m = 0;
      for (let b = Math.max(0, j - 1); b <= Math.min(rows - 1, j + 1); b++) {
        for (let a = Math.max(0, i - 1); a <= Math.min(columns - 1, i + 1); a++)
          near[m++] = raw[b * columns + a]!;
      }
      values[j * columns + i] = Math.max(floor, medianInPlace(near, m));
    }
  }
  return { cell, columns, rows, origin: cell / 2, values };
}

/** Spread of what the print leaves, by its outer twentieth: rough rims of ink are few and far off. */
function zoneSpread(values: number[]): number {
  const off = Float32Array.from(values, Math.abs).sort();
  return quantileOfSorted(off, off.length, 0.93) / 1.81;
}

/**
 * Noise of the survey's level k. The print's zone is too narrow for wide windows: from level 2 on `onPrint` is left at 1,
 * for `localNoise` to fill in.
 */
export function noiseOfLevel(
  survey: Survey,
  background: readonly TileField[],
  print: PrintModel | null,
  edge: FilterEdge | null,
  k: number,
): LevelNoise {
  const { channels } = survey;
  const ink = print && inkOf(print);
  const grounds = background.map((field) => medianInPlace(Float64Array.from(field.values)));
  const code = 1 / Math.min(1023, survey.full) / Math.max(0.02, Math.min(...grounds));
  const floor = 0.25 * code;
  const s = survey.samples[k]!;
  const count = s.x.length;
  const x = new Float32Array(count);
  const y = new Float32Array(count);
  const l = new Float32Array(count);
  const a = new Float32Array(count);
  const b = new Float32Array(count);
  const reach = 1.5 * 2 ** k;
  const zoneL: number[] = [];
  const zoneA: number[] = [];
  const zoneB: number[] = [];
  let n = 0;
  const ground = new Float64Array(channels);
  const off = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    const px = s.x[i]! - 0.5;
    const py = s.y[i]! - 0.5;
    const away = print ? fromLine(print.lattice, px, py) : Number.POSITIVE_INFINITY;
    const near = print !== null && away < print.halfZone + reach;
    if (near && (k > 1 || away >= print.halfZone)) continue;
    if (edge && !insideFilter(edge, s.x[i]!, s.y[i]!)) continue;
    fieldsAt(background, px, py, ground);
    const red = s.values[channels * i]! / ground[0]!;
    const green = channels === 1 ? red : s.values[3 * i + 1]! / ground[1]!;
    const blue = channels === 1 ? red : s.values[3 * i + 2]! / ground[2]!;
    if (near) {
      takeOffInk(ink!, red, green, blue, off);
      zoneL.push(off[0]!);
      zoneA.push(off[1]!);
      zoneB.push(off[2]!);
      continue;
    }
    x[n] = px;
    y[n] = py;
    l[n] = WEIGHTS[0] * red + WEIGHTS[1] * green + WEIGHTS[2] * blue - 1;
    a[n] = red - green;
    b[n] = blue - 0.5 * (red + green);
    n++;
  }
  const colour = channels === 3;
  const wholeOf = (v: Float32Array) => (n > 0 ? tailedSpread(v.slice(0, n)) : 0);
  const [wholeL, wholeA, wholeB] = [wholeOf(l), colour ? wholeOf(a) : 0, colour ? wholeOf(b) : 0];
  const ratio = (zone: number[], whole: number, least: number) =>
    zone.length < 30 || n < 30 ? 1 : zoneSpread(zone) / Math.max(least, whole);
  const order = cellOrder(survey, x, y, n);
  return {
    lightness: cellSpread(order, l, wholeL, floor),
    redGreen: colour ? cellSpread(order, a, wholeA, COLOUR_CODES * code) : null,
    blueYellow: colour ? cellSpread(order, b, wholeB, COLOUR_CODES * code) : null,
    onPrint: [
      Math.max(1, ratio(zoneL, wholeL, floor)),
      colour
        ? Math.max(1, ratio(zoneA, wholeA, COLOUR_CODES * code), ratio(zoneB, wholeB, COLOUR_CODES * code))
        : 1,
    ],
  };
}

/** Noise of all levels; wide windows take the second level's ratio of the print's zone. */
export const localNoise = (levels: readonly LevelNoise[]): LevelNoise[] =>
  levels.map((level, k) => (k > 1 ? { ...level, onPrint: levels[1]!.onPrint } : level));
