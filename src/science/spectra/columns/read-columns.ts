import { done, type Outcome, refused } from '../../../units/index.ts';
import type { RawSpectrum } from '../spectrum.ts';
import { readHeading } from './heading.ts';
import { findParting, type Parting, readNumber, splitLine } from './split-line.ts';

/**
 * Spectra of a table of text: an axis and one or more ordinates in columns, whatever the separator and decimal mark, with
 * any number of lines before the numbers; or one spectrum a line under a heading of abscissas.
 * Refuses: `not-a-spectrum`, `too-few-points`, `damaged-spectrum` (names the line).
 */
export function readColumns(text: string, name: string): Outcome<RawSpectrum[]> {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const written = lines.filter((line) => line.trim() !== '' && !/^\s*[#!%]/.test(line));
  const parting = findParting(written);
  if (parting === null) {
    return refused({
      why: 'not-a-spectrum',
      message: `${name} holds no columns of numbers: export the spectrum as JCAMP-DX or as two columns (axis, ordinate).`,
    });
  }
  const sideways = readSideways(lines, parting, name);
  if (sideways.length > 0) return done(sideways);
  const { rows, others } = longestTable(lines, parting);
  if (rows.length < 2) {
    return refused({
      why: rows.length === 0 ? 'not-a-spectrum' : 'too-few-points',
      message: `${name} has ${rows.length === 0 ? 'no line of two numbers' : 'one point'}: a spectrum needs an axis and an ordinate on each of many lines.`,
    });
  }
  const width = rows[0]!.numbers.length;
  const gap = interruption(rows, others, axisColumn(rows, []));
  const top = gap?.headBefore ?? rows[0]!.line;
  const heads = headLines(lines, top, parting);
  const headings = heads.at(-1) ?? [];
  const remarks = heads.flat().concat(lines.slice(0, top).filter((line) => /^\s*[#!%]/.test(line)));
  const index = axisColumn(rows, headings);
  const x = Float64Array.from(rows, (row) => row.numbers[index]!);
  const xUnit = xUnitOf(headings[index] ?? '', remarks);
  const found: RawSpectrum[] = [];
  for (let column = 0; column < width; column++) {
    if (column === index) continue;
    const heading = headings[column] ?? '';
    const known = readHeading(heading).ordinate;
    found.push({
      title: width > 2 && heading !== '' && known === null ? heading : name,
      x,
      y: Float64Array.from(rows, (row) => row.numbers[column]!),
      xUnit,
      yUnit: known ?? yUnitOf(remarks),
      remarks,
      ...(gap === null ? {} : { passedOver: gap.said }),
    });
  }
  return done(found.length > 1 ? withoutCounters(found) : found);
}

interface Row {
  readonly numbers: readonly number[];
  readonly line: number;
}

/** The longest run of lines with the same count of numbers and no other text, and the other runs of that count. */
function longestTable(
  lines: readonly string[],
  parting: Parting,
): { readonly rows: readonly Row[]; readonly others: readonly (readonly Row[])[] } {
  const runs: Row[][] = [];
  let run: Row[] = [];
  for (const [line, text] of lines.entries()) {
    if (text.trim() === '') continue;
    const numbers = numbersOf(text, parting);
    const good = numbers !== null && numbers.length >= 2;
    if (good && run[0]?.numbers.length === numbers.length) run.push({ numbers, line });
    else {
      run = good ? [{ numbers, line }] : [];
      if (good) runs.push(run);
    }
  }
  const rows = runs.reduce<readonly Row[]>((best, one) => (one.length > best.length ? one : best), []);
  return {
    rows,
    others: runs.filter((one) => one !== rows && one[0]!.numbers.length === rows[0]?.numbers.length),
  };
}

/** The numbers of a line; null where any of its fields is none. */
function numbersOf(text: string, parting: Parting): number[] | null {
  const numbers: number[] = [];
  for (const field of splitLine(text, parting)) {
    if (field === '') continue;
    const value = readNumber(field, parting);
    if (value === null) return null;
    numbers.push(value);
  }
  return numbers;
}

/**
 * Says where a table breaks off and goes on: lines before or behind the longest run whose axis lies beyond its end, in
 * the same direction. Null where the rest is another table, or no table.
 */
function interruption(
  rows: readonly Row[],
  others: readonly (readonly Row[])[],
  axis: number,
): { readonly said: string; readonly headBefore: number } | null {
  const first = rows[0]!;
  const last = rows.at(-1)!;
  const way = Math.sign(last.numbers[axis]! - first.numbers[axis]!);
  const beyond = others.filter((run) => {
    const from = run[0]!.numbers[axis]!;
    const to = run.at(-1)!.numbers[axis]!;
    return run[0]!.line > last.line
      ? way * (from - last.numbers[axis]!) > 0
      : way * (first.numbers[axis]! - to) > 0;
  });
  const lost = beyond.reduce((sum, run) => sum + run.length, 0);
  if (lost < 2) return null;
  const before = beyond.filter((run) => run[0]!.line < first.line).at(-1);
  const broken = before ? before.at(-1)!.line + 2 : last.line + 2;
  return {
    said: `Line ${broken} is no row of numbers and breaks the table: of its ${rows.length + lost} rows only the ${rows.length} of lines ${first.line + 1} to ${last.line + 1} are used. Mend the line, or export again.`,
    headBefore: Math.min(first.line, ...beyond.map((run) => run[0]!.line)),
  };
}

/** The lines of words before the table, the nearest last. */
function headLines(lines: readonly string[], first: number, parting: Parting): string[][] {
  return lines
    .slice(Math.max(0, first - 60), first)
    .filter((line) => line.trim() !== '' && !/^\s*[#!%]\s*$/.test(line))
    .map((line) => splitLine(line.replace(/^\s*[#!]\s*/, ''), parting).filter((field) => field !== ''));
}

/** The column that rises or falls all the way and is called an axis, else the first that does (not a mere 1, 2, 3 …). */
function axisColumn(rows: readonly Row[], headings: readonly string[]): number {
  const width = rows[0]!.numbers.length;
  const ordered: number[] = [];
  for (let column = 0; column < width; column++) {
    let up = 0;
    let down = 0;
    for (let k = 1; k < rows.length; k++) {
      const step = rows[k]!.numbers[column]! - rows[k - 1]!.numbers[column]!;
      if (step > 0) up++;
      else if (step < 0) down++;
    }
    if (Math.max(up, down) >= 0.98 * (rows.length - 1)) ordered.push(column);
  }
  const named = headings.length === width ? headings.findIndex((h) => readHeading(h).axis !== null) : -1;
  if (named >= 0) return named;
  const counter = (column: number) =>
    rows.every((row, k) => row.numbers[column] === rows[0]!.numbers[column]! + k) &&
    rows[0]!.numbers[column]! <= 1;
  return ordered.find((column) => width === 2 || !counter(column)) ?? ordered[0] ?? 0;
}

const xUnitOf = (heading: string, remarks: readonly string[]): string | null =>
  readHeading(heading).axis ??
  remarks.map((remark) => readHeading(remark).axis).find((axis) => axis !== null) ??
  null;
const yUnitOf = (remarks: readonly string[]): string | null =>
  remarks.map((remark) => readHeading(remark).ordinate).find((ordinate) => ordinate !== null) ?? null;

/** Among several ordinates a column of running numbers is none. */
const withoutCounters = (found: readonly RawSpectrum[]): RawSpectrum[] => {
  const kept = found.filter((one) => !one.y.every((v, k) => v === one.y[0]! + k));
  return kept.length > 0 ? kept : [...found];
};

/** One spectrum a line under a heading of many abscissas; empty where the table is not of this form. */
function readSideways(lines: readonly string[], parting: Parting, name: string): RawSpectrum[] {
  const at = lines.findIndex((line) => line.trim() !== '');
  const head = at < 0 ? [] : splitLine(lines[at]!, parting);
  const plain = (field: string) => readNumber(field.replace(/^[a-z_]+|\s*(cm-1|nm)$/gi, ''), parting);
  const columns = head.flatMap((field, column) => {
    const value = plain(field);
    return value === null ? [] : [{ column, value }];
  });
  if (columns.length < 40 || columns.length < head.length - 12) return [];
  // Two rows of numbers alone are columns of a strange table, not a heading.
  const x = Float64Array.from(columns, (c) => c.value);
  const rising = x.every((v, k) => k === 0 || v > x[k - 1]!);
  const falling = x.every((v, k) => k === 0 || v < x[k - 1]!);
  if (!rising && !falling) return [];
  const found: RawSpectrum[] = [];
  for (const line of lines.slice(at + 1)) {
    const fields = splitLine(line, parting);
    const y = columns.map((c) => readNumber(fields[c.column] ?? '', parting));
    if (y.some((v) => v === null)) continue;
    const words = fields.filter((field, k) => !columns.some((c) => c.column === k) && field !== '');
    found.push({
      title: words.find((word) => /[a-z]{2}/i.test(word)) ?? name,
      x,
      y: Float64Array.from(y as number[]),
      xUnit: null,
      yUnit: null,
      remarks: words,
    });
  }
  return found;
}
