/** Error rates with their intervals on one line from none to all; the line stays empty where nothing was shown. */
import { element, frame, INK, text } from './markup.ts';

export interface RateLine {
  readonly name: string;
  readonly rate: { readonly value: number; readonly lower: number; readonly upper: number } | null;
  /** Beside it: “18 of 20”. */
  readonly says: string;
  /** `good`: the further right the better; `bad`: the further left. */
  readonly wants: 'high' | 'low';
}

const ROW = 34;
const LABEL = 220;
const SAYS = 92;

export function rateBars(lines: readonly RateLine[], width: number, title: string): string {
  const narrow = width < 560;
  const left = narrow ? 8 : LABEL;
  const right = width - SAYS;
  const row = narrow ? ROW + 20 : ROW;
  const top = 26;
  const height = top + row * lines.length + 6;
  const x = (share: number): number => left + share * (right - left);
  const parts: string[] = [];
  for (const share of [0, 0.25, 0.5, 0.75, 1]) {
    parts.push(
      element('path', { d: `M${x(share)} ${top - 6}V${height - 4}`, stroke: INK.rule, 'stroke-width': 1 }),
      text(`${Math.round(100 * share)}${share === 1 ? ' %' : ''}`, {
        x: x(share),
        y: 14,
        anchor: share === 0 ? 'start' : share === 1 ? 'end' : 'middle',
        size: 12,
        fill: INK.soft,
      }),
    );
  }
  lines.forEach(({ name, rate, says, wants }, i) => {
    const y = top + row * i + (narrow ? 32 : row / 2);
    parts.push(text(name, { x: narrow ? left : 0, y: narrow ? y - 16 : y + 5, size: 15 }));
    const colour = wants === 'high' ? INK.accent : INK.warn;
    if (rate === null) {
      parts.push(
        element('path', {
          d: `M${left} ${y}H${right}`,
          stroke: INK.soft,
          'stroke-width': 1.5,
          'stroke-dasharray': '2 6',
        }),
      );
    } else {
      parts.push(
        element('path', {
          d: `M${x(rate.lower)} ${y}H${x(rate.upper)}`,
          stroke: colour,
          'stroke-width': 5,
          'stroke-opacity': 0.4,
        }),
        wants === 'high'
          ? element('circle', { cx: x(rate.value), cy: y, r: 6.5, fill: colour })
          : element('rect', { x: x(rate.value) - 6, y: y - 6, width: 12, height: 12, fill: colour }),
      );
    }
    parts.push(text(says, { x: width, y: y + 5, anchor: 'end', size: 14, fill: INK.soft }));
  });
  const told = lines.map(({ name, rate, says }) =>
    rate === null
      ? `${name}: nothing shown.`
      : `${name}: ${says}, ${Math.round(100 * rate.lower)} to ${Math.round(100 * rate.upper)} per cent.`,
  );
  return frame({ width, height }, { title, description: told.join(' ') }, title, parts.join(''));
}
