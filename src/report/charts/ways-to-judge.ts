import { axisTicks, figure } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

/** The claim under one defensible choice. */
export interface Way {
  readonly label: string;
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
  readonly above: boolean;
  /** Reads as the claim does. */
  readonly agrees: boolean;
  /** The claim itself. */
  readonly base: boolean;
}

export interface WaysToJudge {
  readonly ways: readonly Way[];
  readonly unit: string;
  readonly width: number;
  readonly name: string;
}

/**
 * The claim judged in every defensible way, side by side, lowest net first: each way a line with its interval, filled where
 * it stands above the background, hollow where it does not; ways that disagree with the claim in the warning colour.
 */
export function waysToJudge({ ways, unit, width, name }: WaysToJudge): string {
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (ways.length === 0) throw new RangeError('ways: at least one is needed, given none');
  const height = width >= 640 ? 240 : 210;
  const left = 46;
  const right = width - 12;
  const top = 26;
  const floor = height - 30;
  const low = Math.min(0, ...ways.map((way) => way.lower));
  const high = Math.max(...ways.map((way) => way.upper), low + 1e-9);
  const ticks = axisTicks(low, high, 5);
  const from = ticks[0]!;
  const to = ticks[ticks.length - 1]!;
  const y = (value: number) => floor - ((value - from) / (to - from)) * (floor - top);
  const sorted = [...ways].sort((a, b) => a.value - b.value);
  const step = (right - left) / sorted.length;
  const parts: string[] = [];
  for (const tick of ticks) {
    parts.push(
      element('line', {
        x1: left,
        x2: right,
        y1: y(tick),
        y2: y(tick),
        stroke: tick === 0 ? INK.ink : INK.rule,
        'stroke-width': tick === 0 ? 1.5 : 1,
      }),
      text(figure(tick), { x: left - 8, y: y(tick) + 5, anchor: 'end', size: 14, fill: INK.soft }),
    );
  }
  sorted.forEach((way, k) => {
    const x = left + step * (k + 0.5);
    const ink = way.agrees ? INK.accent : INK.warn;
    if (way.base) {
      parts.push(
        element('rect', {
          x: x - Math.min(12, step / 2),
          y: top,
          width: Math.min(24, step),
          height: floor - top,
          fill: INK.accentSoft,
          class: 'base',
        }),
      );
    }
    parts.push(
      element(
        'g',
        { class: way.agrees ? 'way' : 'way differs' },
        element('title', {}, escapedTitle(way, unit)) +
          element('line', {
            x1: x,
            x2: x,
            y1: y(way.lower),
            y2: y(way.upper),
            stroke: ink,
            'stroke-width': Math.max(1.5, Math.min(4, step / 4)),
            'stroke-opacity': 0.55,
          }) +
          element('circle', {
            cx: x,
            cy: y(way.value),
            r: Math.max(2.5, Math.min(5.5, step / 2.6)),
            fill: way.above ? ink : INK.paper,
            stroke: ink,
            'stroke-width': 2,
          }),
      ),
    );
  });
  parts.push(
    text(unit, { x: left, y: 15, size: 14, fill: INK.soft }),
    text('each line one way to judge, lowest first', {
      x: right,
      y: height - 8,
      anchor: 'end',
      size: 14,
      fill: INK.soft,
    }),
  );
  return frame(
    { width, height },
    { title: 'The claim judged in other ways', description: inWords(sorted, unit) },
    name,
    parts.join(''),
  );
}

const escapedTitle = (way: Way, unit: string): string =>
  `${way.label}: ${figure(way.value)} ${unit}, ${way.above ? 'above' : 'not above'} the background`
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;');

function inWords(ways: readonly Way[], unit: string): string {
  const others = ways.filter((way) => !way.base);
  const agree = others.filter((way) => way.agrees).length;
  const differ = others.filter((way) => !way.agrees).map((way) => way.label);
  return `${agree} of ${others.length} ways read as the claim does; net from ${figure(ways[0]!.value)} to ${figure(ways.at(-1)!.value)} ${unit}.${differ.length > 0 ? ` Otherwise: ${differ.join('; ')}.` : ''}`;
}
