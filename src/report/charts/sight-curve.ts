import { axisTicks, figure, percent } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

export interface SightCurve {
  /** Chance to be seen against release, rising. */
  readonly curve: readonly { readonly release_per_gram: number; readonly chance_above: number }[];
  /** Release that is expected, or that matters; null: not said. */
  readonly release: number | null;
  readonly smallest80: number | null;
  readonly smallest95: number | null;
  readonly width: number;
  readonly name: string;
}

/** Chance that a release would be called more than the background, with the smallest ones seen four and nineteen times in twenty marked. */
export function sightCurve(given: SightCurve): string {
  const { curve, release, smallest80, smallest95, width, name } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (curve.length < 2) throw new RangeError(`curve: at least two points are needed, given ${curve.length}`);
  const wide = width >= 640;
  const height = wide ? 320 : Math.round(Math.min(300, width * 0.8));
  const left = 58;
  const right = width - 14;
  const top = 14;
  const floor = height - 48;
  const most = Math.max(
    curve.at(-1)!.release_per_gram,
    release !== null && release < 3 * curve.at(-1)!.release_per_gram ? release * 1.05 : 0,
  );
  const ticks = axisTicks(0, most, wide ? 8 : 5).filter((tick) => tick <= most * 1.001);
  const x = (value: number) => left + (value / most) * (right - left);
  const y = (chance: number) => floor - chance * (floor - top);
  const parts: string[] = [];
  for (const level of [0, 0.25, 0.5, 0.8, 0.95]) {
    parts.push(
      element('line', {
        x1: left,
        x2: right,
        y1: y(level),
        y2: y(level),
        stroke: level === 0 ? INK.soft : INK.rule,
        'stroke-dasharray': level >= 0.8 ? '3 4' : null,
      }),
      text(percent(level), { x: left - 8, y: y(level) + 5, anchor: 'end', size: 14, fill: INK.soft }),
    );
  }
  for (const tick of ticks) {
    parts.push(
      element('line', { x1: x(tick), x2: x(tick), y1: floor, y2: floor + 5, stroke: INK.soft }),
      text(figure(tick), { x: x(tick), y: floor + 20, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  }
  // What is marked was sought between the points of the curve, which then runs through it.
  const marks = [
    [smallest80, 0.8],
    [smallest95, 0.95],
  ].flatMap(([smallest, level]) =>
    smallest == null || smallest > most ? [] : [{ release_per_gram: smallest, chance_above: level! }],
  );
  const line = [...curve, ...marks]
    .sort((a, b) => a.release_per_gram - b.release_per_gram)
    .map((p, k) => `${k === 0 ? 'M' : 'L'}${at(x(p.release_per_gram))} ${at(y(p.chance_above))}`)
    .join('');
  parts.push(
    element('path', {
      d: `${line}L${at(x(curve.at(-1)!.release_per_gram))} ${at(floor)}L${at(left)} ${at(floor)}Z`,
      fill: INK.accentSoft,
      'fill-opacity': 0.5,
    }),
    element('path', {
      d: line,
      fill: 'none',
      stroke: INK.accent,
      'stroke-width': 3,
      'stroke-linejoin': 'round',
      class: 'sight',
    }),
  );
  for (const { release_per_gram: smallest, chance_above: level } of marks) {
    parts.push(
      element('line', {
        x1: x(smallest),
        x2: x(smallest),
        y1: y(level),
        y2: floor,
        stroke: INK.accent,
        'stroke-dasharray': '3 4',
      }),
      element('circle', {
        cx: x(smallest),
        cy: y(level),
        r: 6,
        fill: INK.paper,
        stroke: INK.accent,
        'stroke-width': 2.5,
        class: 'smallest',
      }),
    );
  }
  if (release !== null && release <= most) {
    const end = x(release) > right - 130;
    parts.push(
      element('line', {
        x1: x(release),
        x2: x(release),
        y1: top,
        y2: floor,
        stroke: INK.bandEdge,
        'stroke-width': 2,
        class: 'expected',
      }),
      text('release expected', {
        x: x(release) + (end ? -7 : 7),
        y: floor - 10,
        anchor: end ? 'end' : 'start',
        size: 14,
        fill: INK.bandEdge,
        weight: 600,
      }),
    );
  }
  parts.push(
    text('release, particles per gram', { x: right, y: height - 8, anchor: 'end', size: 14, fill: INK.soft }),
  );
  return frame(
    { width, height },
    { title: 'Chance that a release is seen', description: inWords(given) },
    name,
    parts.join(''),
  );
}

const at = (n: number): string => String(Math.round(n * 100) / 100);

function inWords({ curve, smallest80, smallest95 }: SightCurve): string {
  const first = curve[0]!;
  const said = [
    [smallest80, '80 %'],
    [smallest95, '95 %'],
  ].flatMap(([smallest, level]) =>
    typeof smallest === 'number'
      ? [`A release of ${figure(smallest)} per gram is seen with ${level} chance.`]
      : [],
  );
  return `${said.join(' ')} With no release, ${percent(first.chance_above)} of studies would be called above by luck.`.trim();
}
