import { axisTicks, figure } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

/** One result on the axis. `value` null: only a limit is known. */
export interface NetRow {
  readonly label: string;
  readonly value: number | null;
  readonly lower: number;
  readonly upper: number;
  /** The claim's own row; others are comparisons and drawn lighter. */
  readonly main: boolean;
}

export interface NetInterval {
  readonly rows: readonly NetRow[];
  readonly unit: string;
  readonly confidence: number;
  /** Net amount that this design would find in most attempts; null when not computed. */
  readonly detectable: number | null;
  readonly width: number;
  readonly name: string;
}

/** The net result with its interval against nought; comparisons below it on the same axis. */
export function netInterval(given: NetInterval): string {
  const { rows, width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (rows.length === 0) throw new RangeError('rows: at least one result is needed, given none');
  const wide = width >= 640;
  const compared = rows.length > 1;
  const longest = Math.max(...rows.map((row) => row.label.length));
  const left = wide && compared ? Math.min(260, longest * 8.6 + 24) : 14;
  const right = width - 18;
  const low = Math.min(0, ...rows.map((row) => row.lower));
  const high = Math.max(...rows.map((row) => row.upper), given.detectable ?? 0, low + 1e-9);
  const ticks = axisTicks(low, high === low ? low + 1 : high, wide ? 8 : 4);
  const from = ticks[0]!;
  const to = ticks[ticks.length - 1]!;
  const x = (value: number) => left + ((value - from) / (to - from)) * (right - left);
  const above = wide ? 0 : 20;
  const head = given.detectable === null ? 10 : 28;
  const rowHeight = (row: NetRow) => (row.main ? 44 : 30) + (compared ? above : 0);
  const floor = rows.reduce((sum, row) => sum + rowHeight(row), head);
  const parts: string[] = [];
  if (from < 0 || to > 0) {
    parts.push(
      element('line', { x1: x(0), x2: x(0), y1: head - 6, y2: floor, stroke: INK.ink, 'stroke-width': 1.5 }),
    );
  }
  if (given.detectable !== null) {
    const at = x(given.detectable);
    parts.push(
      element('line', {
        x1: at,
        x2: at,
        y1: head - 6,
        y2: floor,
        stroke: INK.soft,
        'stroke-width': 1.25,
        'stroke-dasharray': '2 4',
      }),
      text('smallest this design can find', {
        x: at,
        y: 15,
        size: 14,
        fill: INK.soft,
        anchor: at > right - 210 ? 'end' : 'start',
      }),
    );
  }
  let y = head;
  for (const row of rows) {
    const tall = rowHeight(row);
    const middle = y + tall - (row.main ? 22 : 15);
    if (compared) {
      parts.push(
        wide
          ? text(row.label, {
              x: left - 16,
              y: middle + 5,
              anchor: 'end',
              size: row.main ? 15 : 14,
              weight: row.main ? 650 : 400,
              fill: row.main ? INK.ink : INK.soft,
            })
          : text(row.label, { x: left, y: y + 16, size: 14, fill: row.main ? INK.ink : INK.soft }),
      );
    }
    parts.push(bar(row, x, middle));
    y += tall;
  }
  for (const tick of ticks) {
    parts.push(
      element('line', { x1: x(tick), x2: x(tick), y1: floor, y2: floor + 5, stroke: INK.soft }),
      text(figure(tick), { x: x(tick), y: floor + 20, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  }
  parts.push(
    element('line', { x1: left, x2: right, y1: floor, y2: floor, stroke: INK.soft }),
    text(given.unit, { x: right, y: floor + 39, anchor: 'end', size: 14, fill: INK.soft }),
  );
  return frame(
    { width, height: floor + 46 },
    { title: 'Net result with its interval', description: inWords(given) },
    given.name,
    parts.join(''),
  );
}

function bar(row: NetRow, x: (value: number) => number, y: number): string {
  const ink = row.main ? INK.accent : INK.soft;
  const thick = row.main ? 10 : 4;
  const line = element('line', {
    x1: x(row.lower),
    x2: x(row.upper),
    y1: y,
    y2: y,
    stroke: row.main ? INK.accentSoft : INK.rule,
    'stroke-width': thick,
    class: row.main ? 'interval main' : 'interval',
  });
  const ends = [row.lower, row.upper]
    .map((at) =>
      element('line', {
        x1: x(at),
        x2: x(at),
        y1: y - thick / 2 - 2,
        y2: y + thick / 2 + 2,
        stroke: ink,
        'stroke-width': 2,
      }),
    )
    .join('');
  const dot =
    row.value === null
      ? ''
      : element('circle', { cx: x(row.value), cy: y, r: row.main ? 7 : 4, fill: ink, class: 'value' });
  return line + ends + dot;
}

function inWords(given: NetInterval): string {
  const level = `${figure(given.confidence * 100)} %`;
  const lines = given.rows.map((row) =>
    row.value === null
      ? `${row.label}: no more than ${figure(row.upper)} ${given.unit} (${level}).`
      : `${row.label}: ${figure(row.value)} ${given.unit}, ${figure(row.lower)} to ${figure(row.upper)} (${level}).`,
  );
  if (given.detectable !== null) {
    lines.push(`The smallest amount this design can find is ${figure(given.detectable)} ${given.unit}.`);
  }
  return lines.join(' ');
}
