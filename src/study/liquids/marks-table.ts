import type { VolumeMark } from '../../science/fluids/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';

/** Seconds in a written unit of time. */
const TIME: Readonly<Record<string, number>> = {
  s: 1,
  sec: 1,
  secs: 1,
  second: 1,
  seconds: 1,
  min: 60,
  mins: 60,
  minute: 60,
  minutes: 60,
  h: 3600,
  hr: 3600,
  hour: 3600,
  hours: 3600,
};
/** Millilitres in a written unit of volume. */
const VOLUME: Readonly<Record<string, number>> = {
  ml: 1,
  millilitre: 1,
  millilitres: 1,
  milliliter: 1,
  milliliters: 1,
  cm3: 1,
  'cm³': 1,
  cc: 1,
  ul: 0.001,
  µl: 0.001,
  μl: 0.001,
  l: 1000,
  litre: 1000,
  litres: 1000,
  liter: 1000,
  liters: 1000,
  dl: 100,
  cl: 10,
};
const TIME_NAMES = ['time', 't', 'elapsed', 'clock', 'zeit', 'temps', 'duration'];
const VOLUME_NAMES = ['volume', 'v', 'vol', 'filtrate', 'passed', 'volumen'];

interface Column {
  readonly at: number;
  /** Null: the unit stands in the cells. */
  readonly unit: number | null;
  readonly clock: boolean;
}

/**
 * Marks from a table as people write it: one column of time and one of volume, in any order, with the unit in the heading
 * ("time (min)", "volume_mL", "t / s", "V [L]", or a bare "s" and "mL") or in every cell ("1:30", "90 s", "12 mL").
 * Other columns are left alone. A unit that is nowhere is asked for, never guessed; decimal commas are read.
 */
export function marksFromTable(rows: readonly (readonly string[])[]): Outcome<readonly VolumeMark[]> {
  const written = rows
    .map((cells, at) => ({ cells: cells.map((cell) => cell.trim()), line: at + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== '') && !cells[0]!.startsWith('#'));
  const head = written[0];
  if (!head)
    return no(
      'empty-table',
      'The table is empty: write a heading such as time_s,volume_ml and one mark a line.',
    );
  const time = columnOf(head.cells, TIME_NAMES, TIME);
  const volume = columnOf(head.cells, VOLUME_NAMES, VOLUME);
  if (time === null || volume === null) {
    const missing = time === null && volume === null ? 'time nor volume' : time === null ? 'time' : 'volume';
    return no(
      'no-column',
      `Line ${head.line}: no column of ${missing} in the heading “${head.cells.join(', ')}”; name them with their units, such as time_s,volume_ml.`,
    );
  }
  const marks: VolumeMark[] = [];
  let ofDay = false;
  for (const { cells, line } of written.slice(1)) {
    const timeS = cellValue(cells[time.at] ?? '', time, TIME, 'time', line);
    if (!timeS.ok) return timeS;
    const volumeMl = cellValue(cells[volume.at] ?? '', volume, VOLUME, 'volume', line);
    if (!volumeMl.ok) return volumeMl;
    ofDay ||= /^[0-9]+:[0-9]{1,2}:/.test(cells[time.at] ?? '') && timeS.value >= 3600;
    marks.push({ timeS: timeS.value, volumeMl: volumeMl.value });
  }
  if (ofDay && marks[0]!.volumeMl > 0)
    return no(
      'no-start',
      'The times are times of day: begin with a line of volume 0 at the time when the flow began.',
    );
  return done(marks);
}

const no = (why: string, message: string) => refused({ why, message });

/** The column whose heading names the quantity, or is its unit alone. */
function columnOf(
  head: readonly string[],
  names: readonly string[],
  units: Readonly<Record<string, number>>,
): Column | null {
  const words = head.map((cell) =>
    cell
      .toLowerCase()
      .split(/[^a-z0-9µμ³]+/)
      .filter(Boolean),
  );
  const unitOf = (of: readonly string[]): number | null => {
    const unit = of.find((word, i) => Object.hasOwn(units, word) && !(i === 0 && names.includes(word)));
    return unit === undefined ? null : units[unit]!;
  };
  const named = words.findIndex((of) => of.some((word) => names.includes(word)));
  const at =
    named >= 0
      ? named
      : words.findIndex((of) => of.length <= 2 && of.some((word) => Object.hasOwn(units, word)));
  return at < 0 ? null : { at, unit: unitOf(words[at]!), clock: units === TIME };
}

function cellValue(
  cell: string,
  column: Column,
  units: Readonly<Record<string, number>>,
  what: 'time' | 'volume',
  line: number,
): Outcome<number> {
  if (cell === '')
    return no('empty-cell', `Line ${line}: the ${what} is empty; fill it in or take the line out.`);
  if (column.clock && /^[0-9]+(:[0-9]{1,2}){1,2}([.,][0-9]+)?$/.test(cell)) return done(clockSeconds(cell));
  const parts = /^([+-]?[0-9]+(?:[.,][0-9]+)?(?:e[+-]?[0-9]+)?)\s*([^\s0-9]*[³3]?)$/i.exec(cell);
  if (!parts)
    return no(
      'not-a-number',
      `Line ${line}: “${cell}” is not a ${what}; write a number${column.clock ? ' or minutes:seconds' : ''}.`,
    );
  const value = Number(parts[1]!.replace(',', '.'));
  const written = parts[2]!.toLowerCase();
  if (written !== '' && !Object.hasOwn(units, written))
    return no(
      'wrong-unit',
      `Line ${line}: “${cell}” has the unit “${parts[2]}”, which is no unit of ${what}.`,
    );
  const unit = written === '' ? column.unit : units[written]!;
  if (unit === null)
    return no(
      'unit-missing',
      `Line ${line}: ${what} ${cell} has no unit; write it into the heading, such as ${what === 'time' ? 'time_s or time_min' : 'volume_ml or volume_l'}.`,
    );
  return done(value * unit);
}

/** 1:30 is a minute and a half, 14:03:20 a time of day. */
function clockSeconds(cell: string): number {
  return cell
    .split(':')
    .map((part) => Number(part.replace(',', '.')))
    .reduce((sum, part) => sum * 60 + part, 0);
}
