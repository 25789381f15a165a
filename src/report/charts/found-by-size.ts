import { figure, percent } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

export interface FoundBySize {
  /** Shares of drawn pieces that were found, one row for each contrast and size, sizes rising within a contrast. */
  readonly rows: readonly {
    readonly contrast: string;
    readonly size_um: number;
    readonly share: number;
    readonly lower: number;
    readonly upper: number;
    readonly drawn: number;
  }[];
  /** Counting begins here, µm. */
  readonly from: number;
  readonly confidence: number;
  readonly width: number;
  readonly name: string;
}

/** Each contrast by its mark and its line, not by colour alone. */
const LOOKS = [
  { dash: null, mark: 'round', ink: INK.accent },
  { dash: '8 5', mark: 'square', ink: INK.bandEdge },
  { dash: '2 5', mark: 'triangle', ink: INK.warn },
] as const;

/** Share of known pieces that were found again, by their size, a line for each contrast; bars are intervals of the shares. */
export function foundBySize(given: FoundBySize): string {
  const { rows, from, width, name } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (rows.length === 0) throw new RangeError('rows: at least one is needed, given none');
  const wide = width >= 640;
  const height = wide ? 320 : Math.round(Math.min(320, width * 0.9));
  const contrasts = [...new Set(rows.map((row) => row.contrast))];
  const sizes = [...new Set(rows.map((row) => row.size_um))].sort((a, b) => a - b);
  const [left, right, top, floor] = [58, width - 18, 40, height - 52];
  const low = Math.log(Math.min(...sizes, from) / 1.15);
  const high = Math.log(Math.max(...sizes, from) * 1.15);
  const x = (size: number) => left + ((Math.log(size) - low) / (high - low)) * (right - left);
  const y = (share: number) => floor - share * (floor - top);
  const parts: string[] = [];
  for (const level of [0, 0.5, 0.9, 1]) {
    parts.push(
      element('line', {
        x1: left,
        x2: right,
        y1: y(level),
        y2: y(level),
        stroke: level === 0 ? INK.soft : INK.rule,
        'stroke-dasharray': level === 0.5 || level === 0.9 ? '3 4' : null,
      }),
      text(percent(level), { x: left - 8, y: y(level) + 5, anchor: 'end', size: 14, fill: INK.soft }),
    );
  }
  for (const size of sizes) {
    parts.push(
      element('line', { x1: x(size), x2: x(size), y1: floor, y2: floor + 5, stroke: INK.soft }),
      text(figure(size), { x: x(size), y: floor + 20, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  }
  parts.push(
    text('longest Feret diameter, µm', { x: right, y: height - 8, anchor: 'end', size: 14, fill: INK.soft }),
    element('line', {
      x1: x(from),
      x2: x(from),
      y1: top,
      y2: floor,
      stroke: INK.ink,
      'stroke-width': 1.5,
      class: 'from',
    }),
    text('counted from here', {
      x: x(from) + (x(from) > right - 140 ? -6 : 6),
      y: floor - 8,
      anchor: x(from) > right - 140 ? 'end' : 'start',
      size: 14,
    }),
  );
  contrasts.forEach((contrast, k) => {
    const look = LOOKS[k % LOOKS.length]!;
    // Side by side, so that bars of one size do not hide each other.
    const aside = (k - (contrasts.length - 1) / 2) * 5;
    const own = rows.filter((row) => row.contrast === contrast);
    parts.push(
      element('path', {
        d: own
          .map((row, at) => `${at === 0 ? 'M' : 'L'}${place(x(row.size_um) + aside)} ${place(y(row.share))}`)
          .join(''),
        fill: 'none',
        stroke: look.ink,
        'stroke-width': 2.5,
        'stroke-dasharray': look.dash,
        class: 'found',
      }),
    );
    for (const row of own) {
      const at = x(row.size_um) + aside;
      parts.push(
        element('line', {
          x1: at,
          x2: at,
          y1: y(row.lower),
          y2: y(row.upper),
          stroke: look.ink,
          'stroke-width': 1.2,
        }),
        mark(look.mark, at, y(row.share), look.ink),
      );
    }
    const key = left + (k * (right - left)) / contrasts.length;
    parts.push(
      mark(look.mark, key + 8, 18, look.ink),
      text(contrast, { x: key + 20, y: 23, size: 14, fill: look.ink, weight: 600 }),
    );
  });
  return frame(
    { width, height },
    { title: 'Share of known pieces found, by size', description: inWords(given, contrasts) },
    name,
    parts.join(''),
  );
}

function mark(kind: (typeof LOOKS)[number]['mark'], x: number, y: number, ink: string): string {
  const filled = { fill: INK.paper, stroke: ink, 'stroke-width': 2.5, class: 'share' };
  if (kind === 'round') return element('circle', { cx: x, cy: y, r: 5, ...filled });
  if (kind === 'square') return element('rect', { x: x - 4.5, y: y - 4.5, width: 9, height: 9, ...filled });
  return element('path', {
    d: `M${place(x)} ${place(y - 6)}L${place(x + 6)} ${place(y + 5)}L${place(x - 6)} ${place(y + 5)}Z`,
    ...filled,
  });
}

const place = (n: number): string => String(Math.round(n * 100) / 100);

const inWords = ({ rows, confidence }: FoundBySize, contrasts: readonly string[]): string =>
  `${contrasts
    .map((contrast) => {
      const said = rows
        .filter((row) => row.contrast === contrast)
        .map((row) => `${figure(row.size_um)} µm ${percent(row.share)} of ${row.drawn}`);
      return `Contrast ${contrast}: ${said.join(', ')}.`;
    })
    .join(' ')} Bars are ${percent(confidence)} intervals.`;
