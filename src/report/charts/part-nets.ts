import { axisTicks, figure, lengthWords } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

/** Net of one part of the counted pieces: a category, a size band. */
export interface PartNet {
  readonly label: string;
  /** Counted on either side; null: not counted, and `because` says which of the other two zeros it is. */
  readonly counts: { readonly specimens: number; readonly controls: number } | null;
  readonly because: string | null;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  /** The sum of all parts: drawn last and heavier. */
  readonly total: boolean;
}

export interface PartNets {
  readonly title: string;
  readonly rows: readonly PartNet[];
  readonly unit: string;
  readonly confidence: number;
  readonly width: number;
  readonly name: string;
}

const ROW = 34;
const TOTAL_ROW = 42;

/**
 * Net of every part with its interval against nought. A part where the controls hold more lies to the left of nought in
 * the warning colour; a part that was not looked at, or could not have been seen, is hatched and says so.
 */
export function partNets(given: PartNets): string {
  const { rows, width, name } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (rows.length === 0) throw new RangeError('rows: at least one part is needed, given none');
  const wide = width >= 640;
  const longest = Math.max(...rows.map((row) => row.label.length));
  const names = wide ? Math.min(300, Math.max(120, longest * 7.4 + 16)) : 0;
  const counts = wide ? 116 : 0;
  const left = wide ? names + counts + 12 : 22;
  const right = width - 16;
  const known = rows.filter((row) => row.lower !== null && row.upper !== null);
  const low = Math.min(0, ...known.map((row) => row.lower!));
  const high = Math.max(...known.map((row) => row.upper!), low + 1e-9, known.length === 0 ? 1 : low);
  const ticks = axisTicks(low, high > low ? high : low + 1, wide ? 7 : 4);
  const from = ticks[0]!;
  const to = ticks[ticks.length - 1]!;
  const x = (value: number) => left + ((value - from) / (to - from)) * (right - left);
  const head = wide ? 26 : 4;
  const tall = (row: PartNet) => (row.total ? TOTAL_ROW : ROW) + (wide ? 0 : 20);
  const floor = rows.reduce((sum, row) => sum + tall(row), head);
  const parts: string[] = [hatch(name)];
  if (wide)
    parts.push(
      text('product, controls', { x: names + counts, y: 16, anchor: 'end', size: 13, fill: INK.soft }),
    );
  let y = head;
  for (const row of rows) {
    const height = tall(row);
    const middle = y + height - (row.total ? TOTAL_ROW : ROW) / 2;
    if (row.total) {
      parts.push(element('line', { x1: wide ? 0 : left, x2: right, y1: y + 2, y2: y + 2, stroke: INK.rule }));
    }
    // on a narrow page the names lie above the bars: the line at nought leaves them free
    parts.push(
      element('line', {
        x1: x(0),
        x2: x(0),
        y1: wide ? y - 2 : y + 24,
        y2: y + height,
        stroke: INK.ink,
        'stroke-width': 1.5,
      }),
    );
    const counted = row.counts ? `${figure(row.counts.specimens)}, ${figure(row.counts.controls)}` : '';
    const weight = row.total ? 650 : 400;
    if (wide) {
      parts.push(
        text(row.label, { x: 0, y: middle + 5, size: 15, weight }),
        text(counted, { x: names + counts, y: middle + 5, anchor: 'end', size: 15, fill: INK.soft }),
      );
    } else {
      parts.push(
        text(row.label, { x: 0, y: y + 17, size: 14, weight }),
        text(counted, { x: right, y: y + 17, anchor: 'end', size: 14, fill: INK.soft }),
      );
    }
    parts.push(row.counts === null ? unseen(row, left, right, middle, name) : bar(row, x, middle));
    y += height;
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
    { title: given.title, description: inWords(given) },
    name,
    parts.join(''),
  );
}

const hatchId = (name: string) => `${name.replaceAll(/[^A-Za-z0-9_-]/g, '-')}-hatch`;

const hatch = (name: string): string =>
  element(
    'defs',
    {},
    element(
      'pattern',
      {
        id: hatchId(name),
        width: 7,
        height: 7,
        patternUnits: 'userSpaceOnUse',
        patternTransform: 'rotate(45)',
      },
      element('line', { x1: 3, x2: 3, y1: 0, y2: 7, stroke: INK.soft, 'stroke-width': 1.4 }),
    ),
  );

function unseen(row: PartNet, left: number, right: number, y: number, name: string): string {
  return (
    element('rect', {
      x: left,
      y: y - 10,
      width: right - left,
      height: 20,
      fill: `url(#${hatchId(name)})`,
      class: 'not-seen',
    }) +
    element('rect', {
      x: left + 6,
      y: y - 10,
      width: Math.min(right - left - 12, (row.because ?? '').length * 7.2 + 12),
      height: 20,
      fill: INK.paper,
    }) +
    text(row.because ?? 'not counted', { x: left + 12, y: y + 5, size: 14, fill: INK.soft })
  );
}

function bar(row: PartNet, x: (value: number) => number, y: number): string {
  const negative = row.value! < 0;
  const ink = negative ? INK.warn : INK.accent;
  const thick = row.total ? 10 : 5;
  return (
    element('line', {
      x1: x(row.lower!),
      x2: x(row.upper!),
      y1: y,
      y2: y,
      stroke: negative ? INK.warn : INK.accentSoft,
      'stroke-opacity': negative ? 0.35 : 1,
      'stroke-width': thick,
      class: 'interval',
    }) +
    element('circle', {
      cx: x(row.value!),
      cy: y,
      r: row.total ? 7 : 5.5,
      fill: negative ? INK.paper : ink,
      stroke: ink,
      'stroke-width': 2,
      class: negative ? 'value negative' : 'value',
    })
  );
}

function inWords({ rows, unit, confidence }: PartNets): string {
  return rows
    .map((row) =>
      row.counts === null
        ? `${row.label}: ${row.because ?? 'not counted'}.`
        : `${row.label}: ${figure(row.counts.specimens)} with the product, ${figure(row.counts.controls)} on controls; ${figure(row.value!)} ${unit}, ${figure(row.lower!)} to ${figure(row.upper!)} (${figure(confidence * 100)} %)${row.value! < 0 ? ', below nought' : ''}.`,
    )
    .join(' ');
}

/** “Fibre, blue, 100 to 300 µm”; pooled cells carry what they share, or how many they are. */
export function kindName({
  path,
  cells,
}: {
  readonly path: readonly string[];
  readonly cells: readonly (readonly string[])[];
}): string {
  if (path.length === 0) return cells.length > 1 ? `Small groups together (${cells.length})` : 'All';
  const shared = path.join(', ');
  const named = shared.charAt(0).toUpperCase() + shared.slice(1);
  return cells.length > 1 ? `${named}, others (${cells.length})` : named;
}

/** “100 to 500 µm (in part)”: the part that the optics could show. */
export const bandName = (fromUm: number, toUm: number, inPart: boolean): string =>
  `${lengthWords(fromUm)} to ${lengthWords(toUm)}${inPart ? ' (in part)' : ''}`;

/** Why nothing was counted of a part; null where it was. */
export const unseenWords = (
  seen: 'counted' | 'not-looked' | 'could-not-be-seen' | 'not-asked',
): string | null =>
  seen === 'counted'
    ? null
    : {
        'could-not-be-seen': 'could not have been seen',
        'not-looked': 'not known whether it could be seen',
        'not-asked': 'not asked about',
      }[seen];
