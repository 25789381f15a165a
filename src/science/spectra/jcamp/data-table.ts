import { done, type Outcome, type Refusal, refused } from '../../../units/index.ts';
import type { LabelledRecord } from './labels.ts';
import { readOrdinates } from './ordinates.ts';

/** What the header promises of a table; null where it is silent. */
export interface TableHeader {
  readonly points: number | null;
  readonly firstX: number | null;
  readonly lastX: number | null;
  readonly deltaX: number | null;
  readonly firstY: number | null;
  readonly maxY: number | null;
  readonly xFactor: number;
  readonly yFactor: number;
  /** Unit in the last written place of FIRSTY. */
  readonly firstYPlace: number;
}

export interface Table {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const wrong = (line: number, message: string): { readonly ok: false; readonly refusal: Refusal } =>
  refused({ why: 'damaged-spectrum', message: `Line ${line}: ${message}` });

/** Size of one unit in the last written place: 4274 → 1, 12.40 → 0.01, 1e3 → 1000. */
export function lastPlace(text: string): number {
  const parts = /^\s*[+-]?[0-9]*(?:\.([0-9]*))?(?:E([+-]?[0-9]+))?/i.exec(text);
  return 10 ** (Number(parts?.[2] ?? 0) - (parts?.[1]?.length ?? 0));
}

/** An exponent needs its sign here: in `4274E37` the E begins a squeezed ordinate. */
const ABSCISSA = /^([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:E[+-][0-9]+)?)(.*)$/i;

/**
 * `(X++(Y..Y))`: each line begins with its abscissa, which is held against the place that the count of ordinates gives;
 * after a line in difference form the first ordinate repeats the last one and is held against it. A lost, doubled or
 * altered line is refused with its number.
 */
export function readSteppedTable(record: LabelledRecord, header: TableHeader): Outcome<Table> {
  const { points, firstX, lastX } = header;
  if (points === null || firstX === null || (lastX === null && header.deltaX === null)) {
    return wrong(record.line, 'the header lacks NPOINTS, FIRSTX or LASTX; without them the axis is unknown.');
  }
  const step = lastX !== null && points > 1 ? (lastX - firstX) / (points - 1) : (header.deltaX ?? 0);
  const end = firstX + step * (points - 1);
  if (header.deltaX !== null && lastX !== null && points > 1) {
    // Writers round DELTAX; over the whole axis it may be off by the rounding alone, not by a line.
    const off = Math.abs(firstX + header.deltaX * (points - 1) - lastX);
    if (
      Math.abs(Math.abs(header.deltaX) - Math.abs(step)) > 0.01 * Math.abs(step) &&
      off > 2 * Math.abs(step)
    ) {
      return wrong(
        record.line,
        `DELTAX ${header.deltaX} does not lead from FIRSTX to LASTX in ${points} points.`,
      );
    }
  }
  const y = new Float64Array(points);
  let filled = 0;
  let check: number | null = null;
  for (const { text, line } of record.lines) {
    const parts = ABSCISSA.exec(text);
    if (!parts) return wrong(line, `“${text.slice(0, 20)}” begins with no abscissa.`);
    const ordinates = readOrdinates(parts[2]!);
    if (!ordinates.ok) return wrong(line, `${ordinates.refusal.message}.`);
    const { values, endsInDifference } = ordinates.value;
    const repeats = check !== null ? 1 : 0;
    if (check !== null && values.length > 0 && values[0] !== check) {
      return wrong(
        line,
        `it begins with ${values[0]} where the line before ended with ${check}: a line is lost or altered.`,
      );
    }
    const stated = Number(parts[1]) * header.xFactor;
    const expected = firstX + step * (filled - repeats);
    const place = lastPlace(parts[1]!) * Math.abs(header.xFactor);
    // Some writers give the abscissa of the repeated ordinate, some that of the first new one, some cut their digits.
    const allowed = 1.25 * Math.abs(step) + place;
    if (Math.abs(stated - expected) > allowed) {
      return wrong(
        line,
        `its abscissa is ${round(stated)} where ${round(expected)} is due: a line is lost, doubled or altered.`,
      );
    }
    if (filled + values.length - repeats > points) {
      return wrong(line, `there are more ordinates than the ${points} that NPOINTS promises.`);
    }
    for (let k = repeats; k < values.length; k++) y[filled++] = values[k]! * header.yFactor;
    check = endsInDifference && values.length > 0 ? values.at(-1)! : null;
  }
  const lastLine = record.lines.at(-1)?.line ?? record.line;
  if (filled < points) {
    return wrong(
      lastLine,
      `the table ends after ${filled} of the ${points} ordinates that NPOINTS promises.`,
    );
  }
  const held = heldAgainstFirst(y, header);
  if (!held) {
    return wrong(
      record.lines[0]?.line ?? record.line,
      `the first ordinate is ${round(y[0]!)} where FIRSTY promises ${header.firstY}.`,
    );
  }
  const x = Float64Array.from({ length: points }, (_, k) =>
    points === 1 ? firstX : firstX + ((end - firstX) * k) / (points - 1),
  );
  return done({ x, y });
}

/**
 * Holds the table against FIRSTY. Two slips of writers, both met in public test files, are seen through: FIRSTY of a
 * falling axis taken from the other end, and a misprinted YFACTOR where FIRSTY and MAXY agree on the right one.
 */
function heldAgainstFirst(y: Float64Array, header: TableHeader): boolean {
  const { firstY, maxY } = header;
  if (firstY === null) return true;
  // Headers are often written in single precision.
  const allowed = Math.max(header.firstYPlace, Math.abs(header.yFactor), 1e-4 * Math.abs(firstY));
  const near = (ordinate: number): boolean => Math.abs(ordinate - firstY) <= allowed;
  if (near(y[0]!) || near(y.at(-1)!)) return true;
  let highest = y[0]!;
  for (const v of y) if (v > highest) highest = v;
  const factor = firstY / y[0]!;
  if (maxY === null || !(Math.abs(factor - 1) < 0.01) || Math.abs(maxY / highest - factor) > 1e-5)
    return false;
  for (let k = 0; k < y.length; k++) y[k]! *= factor;
  return true;
}

/** `(XY..XY)`: pairs, several to a line, the parts of a pair and the pairs parted by comma, semicolon or blanks. */
export function readPairs(record: LabelledRecord, header: TableHeader): Outcome<Table> {
  const x: number[] = [];
  const y: number[] = [];
  for (const { text, line } of record.lines) {
    const numbers = text.split(/[\s,;]+/).filter((part) => part !== '');
    if (numbers.length % 2 === 1 || numbers.some((part) => !Number.isFinite(Number(part)))) {
      return wrong(line, `“${text.slice(0, 30)}” is not made of pairs of numbers.`);
    }
    for (let k = 0; k < numbers.length; k += 2) {
      x.push(Number(numbers[k]) * header.xFactor);
      y.push(Number(numbers[k + 1]) * header.yFactor);
    }
  }
  const lastLine = record.lines.at(-1)?.line ?? record.line;
  if (header.points !== null && header.points !== x.length) {
    return wrong(lastLine, `the table has ${x.length} pairs where NPOINTS promises ${header.points}.`);
  }
  for (const [promised, found, label, line] of [
    [header.firstX, x[0], 'FIRSTX', record.lines[0]?.line ?? record.line],
    [header.lastX, x.at(-1), 'LASTX', lastLine],
  ] as const) {
    if (
      promised !== null &&
      found !== undefined &&
      Math.abs(promised - found) > 1e-4 * Math.abs(promised) + 0.01
    ) {
      return wrong(line, `the abscissa is ${round(found)} where ${label} promises ${promised}.`);
    }
  }
  return done({ x: Float64Array.from(x), y: Float64Array.from(y) });
}

const round = (n: number): number => Number(n.toPrecision(8));
