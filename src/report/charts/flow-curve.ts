import { axisTicks, figure } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

/** The part of `retentate/flow/1` that is drawn; an object of that contract can be given as it is. */
export interface DrawnFlow {
  readonly marks: readonly { readonly time_s: number; readonly volume_ml: number }[];
  readonly curve: readonly {
    readonly volume_ml: number;
    readonly time_s: {
      readonly value: number;
      readonly lower: number;
      readonly upper: number | null;
    } | null;
  }[];
  readonly capacity_ml: {
    readonly value: number;
    readonly lower: number;
    readonly upper: number | null;
    readonly confidence: number;
  };
  readonly per_filter_ml: number | null;
  readonly total_ml: number | null;
}

export interface FlowCurve {
  readonly flow: DrawnFlow;
  /** From 280 px: it is read on a telephone at arm's length. */
  readonly width: number;
  readonly name: string;
}

/**
 * Volume over time: the marks as dots, the forecast as a line in its 90 % band, the capacity as a shaded strip across, and where to
 * change the filter. Pure: figures in, SVG out.
 */
export function flowCurve({ flow, width, name }: FlowCurve): string {
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  const wide = width >= 640;
  const height = wide ? 380 : Math.round(Math.min(340, width * 0.86));
  const left = 52;
  const right = width - 14;
  const top = 16;
  const floor = height - 44;
  const last = flow.marks[flow.marks.length - 1]!;
  const shown = flow.curve.filter((at) => at.time_s !== null);
  const most = Math.max(last.volume_ml, shown[shown.length - 1]?.volume_ml ?? 0);
  const late = shown.map((at) => at.time_s!.value).filter((t) => t < 12 * last.time_s);
  const longest = Math.max(last.time_s * 1.1, ...late);
  const [unit, per] = longest > 300 ? (['min', 60] as const) : (['s', 1] as const);
  const timeTicks = axisTicks(0, longest / per, wide ? 8 : 5).filter((t) => t * per <= longest * 1.001);
  const volumeTicks = axisTicks(0, most, wide ? 7 : 5).filter((v) => v <= most * 1.001);
  const x = (time: number) => left + (Math.min(time, longest) / longest) * (right - left);
  const y = (volume: number) => floor - (volume / most) * (floor - top);
  const parts: string[] = [];

  const { lower, upper, value } = flow.capacity_ml;
  if (lower < most) {
    const high = Math.min(upper ?? most, most);
    parts.push(
      element('rect', {
        x: left,
        y: y(high),
        width: right - left,
        height: y(lower) - y(high),
        fill: INK.band,
      }),
    );
    if (value <= most) parts.push(dashed(left, right, y(value), INK.bandEdge, '7 4'));
  }
  for (const tick of volumeTicks) {
    parts.push(
      element('line', {
        x1: left,
        x2: right,
        y1: y(tick),
        y2: y(tick),
        stroke: INK.rule,
        'stroke-width': 0.75,
      }),
      text(figure(tick), { x: left - 8, y: y(tick) + 5, anchor: 'end', size: 14, fill: INK.soft }),
    );
  }
  for (const tick of timeTicks) {
    parts.push(
      element('line', { x1: x(tick * per), x2: x(tick * per), y1: floor, y2: floor + 5, stroke: INK.soft }),
      text(figure(tick), { x: x(tick * per), y: floor + 20, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  }
  parts.push(
    element('line', { x1: left, x2: right, y1: floor, y2: floor, stroke: INK.soft }),
    text(unit, { x: right, y: floor + 38, anchor: 'end', size: 14, fill: INK.soft }),
    text('mL passed', { x: left - 44, y: floor + 38, size: 14, fill: INK.soft }),
  );

  const line = (of: (t: { value: number; lower: number; upper: number | null }) => number | null) =>
    shown.flatMap((at) => {
      const time = of(at.time_s!);
      return time === null || time > longest ? [] : [[x(time), y(at.volume_ml)] as const];
    });
  const early = line((t) => t.lower);
  const slow = line((t) => t.upper);
  if (early.length > 1) {
    // Where the late side leaves the picture, the band runs to its right edge.
    const lastSlow = slow[slow.length - 1];
    const edge = lastSlow ? [[right, lastSlow[1]] as const] : [];
    const lastEarly = early[early.length - 1]!;
    const tip = [[right, lastEarly[1]] as const];
    parts.push(
      element('path', {
        d: `M${x(0)} ${y(0)} ${path([...early, ...tip, ...edge, ...[...slow].reverse()])}Z`,
        fill: INK.accentSoft,
        'fill-opacity': 0.75,
      }),
    );
  }
  const middle = line((t) => t.value);
  if (middle.length > 1)
    parts.push(
      element('path', {
        d: `M${x(0)} ${y(0)} ${path(middle)}`,
        fill: 'none',
        stroke: INK.accent,
        'stroke-width': 2.5,
      }),
    );
  for (const mark of flow.marks)
    parts.push(
      element('circle', { cx: x(mark.time_s), cy: y(mark.volume_ml), r: 5, fill: INK.ink, class: 'mark' }),
    );
  if (flow.per_filter_ml !== null && flow.per_filter_ml <= most && flow.per_filter_ml > 0) {
    const at = y(flow.per_filter_ml);
    parts.push(
      dashed(left, right, at, INK.warn, '2 4'),
      text(`change the filter here: ${figure(flow.per_filter_ml)} mL`, {
        x: right - 4,
        y: at + (at > floor - 24 ? -7 : 18),
        anchor: 'end',
        size: 14,
        fill: INK.warn,
        weight: 600,
      }),
    );
  }
  if (lower < most)
    parts.push(
      text('filter as good as full', {
        x: left + 8,
        y: Math.max(top + 14, y(Math.min(value, most)) - 6),
        size: 14,
        fill: INK.bandEdge,
      }),
    );
  return frame(
    { width, height },
    { title: 'Volume passed over time, with its forecast', description: inWords(flow) },
    name,
    parts.join(''),
  );
}

const path = (points: readonly (readonly [number, number])[]): string =>
  points.map(([a, b]) => `L${Math.round(a * 100) / 100} ${Math.round(b * 100) / 100}`).join(' ');

const dashed = (x1: number, x2: number, at: number, stroke: string, dashes: string): string =>
  element('line', { x1, x2, y1: at, y2: at, stroke, 'stroke-width': 1.5, 'stroke-dasharray': dashes });

function inWords(flow: DrawnFlow): string {
  const last = flow.marks[flow.marks.length - 1]!;
  const { value, lower, upper, confidence } = flow.capacity_ml;
  const ceiling =
    upper === null
      ? `no ceiling is in sight, at least ${figure(lower)} mL`
      : `about ${figure(value)} mL, ${figure(lower)} to ${figure(upper)} mL (${figure(confidence * 100)} %)`;
  const change = flow.per_filter_ml === null ? '' : ` Change the filter at ${figure(flow.per_filter_ml)} mL.`;
  const whole = flow.total_ml === null ? '' : ` ${figure(flow.total_ml)} mL are to be filtered.`;
  return `${flow.marks.length} marks up to ${figure(last.volume_ml)} mL after ${figure(last.time_s)} s. The filter is as good as full at: ${ceiling}.${change}${whole}`;
}
