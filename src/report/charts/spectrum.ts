import { element, escaped, frame, INK, text } from './markup.ts';

/** One line of a spectrum: places in cm⁻¹ and heights, highest 1. */
export interface SpectrumLine {
  readonly label: string;
  readonly axis: ArrayLike<number>;
  readonly height: ArrayLike<number>;
}

export interface SpectrumPicture {
  readonly query: SpectrumLine;
  /** Best references, the best first; drawn below the query. */
  readonly references: readonly SpectrumLine[];
  /** What the best reference leaves unexplained, heights in units of the query's highest; drawn about its own nought. */
  readonly leftOver: SpectrumLine | null;
  /** Bands of the leading family: found and missing, cm⁻¹. */
  readonly found: readonly number[];
  readonly missing: readonly number[];
  readonly technique: 'infrared' | 'raman';
  readonly width: number;
  readonly name: string;
}

const LANE = 110;
const HEAD = 26;

/** The spectrum over its best references on one axis (infrared falls to the right, as printed), bands as ticks. */
export function spectrumPicture(given: SpectrumPicture): string {
  const { query, references, width } = given;
  if (!(width >= 300)) throw new RangeError(`width: at least 300 px are needed, given ${width}`);
  if (query.axis.length < 2)
    throw new RangeError(`query: at least 2 points are needed, given ${query.axis.length}`);
  const low = query.axis[0]!;
  const high = query.axis[query.axis.length - 1]!;
  const [left, right] = [12, width - 12];
  const share = (at: number) => (at - low) / (high - low);
  const x = (at: number) =>
    given.technique === 'infrared' ? right - share(at) * (right - left) : left + share(at) * (right - left);
  const { leftOver } = given;
  const lanes = [query, ...(leftOver ? [leftOver] : []), ...references];
  const floor = HEAD + lanes.length * LANE + 14;
  const parts: string[] = [];
  for (const at of ticks(low, high)) {
    parts.push(
      element('line', { x1: x(at), x2: x(at), y1: HEAD, y2: floor, stroke: INK.rule, 'stroke-width': 1 }),
      text(String(at), { x: x(at), y: floor + 18, anchor: 'middle', size: 13, fill: INK.soft }),
    );
  }
  for (const [bands, there] of [
    [given.found, true],
    [given.missing, false],
  ] as const) {
    for (const at of bands) {
      if (at < low || at > high) continue;
      parts.push(
        element('line', {
          x1: x(at),
          x2: x(at),
          y1: HEAD + 4,
          y2: HEAD + LANE,
          stroke: there ? INK.accent : INK.warn,
          'stroke-width': 1.5,
          'stroke-dasharray': there ? null : '3 4',
        }),
      );
    }
  }
  for (const [lane, line] of lanes.entries()) {
    const bottom = HEAD + (lane + 1) * LANE;
    parts.push(
      element('path', {
        d: pathOf(line, low, high, x, (h) => bottom - heightOf(line === leftOver, h) * (LANE - 36)),
        fill: 'none',
        stroke: lane === 0 ? INK.ink : line === leftOver ? INK.warn : INK.accent,
        'stroke-width': lane === 0 ? 1.75 : 1.25,
      }),
      text(shortened(line.label, width), {
        x: left,
        y: bottom - LANE + 20,
        size: 14,
        weight: lane === 0 ? 600 : 400,
        fill: lane === 0 ? INK.ink : INK.soft,
      }),
    );
  }
  parts.push(
    text(given.technique === 'infrared' ? 'wavenumber, cm⁻¹' : 'Raman shift, cm⁻¹', {
      x: right,
      y: floor + 38,
      anchor: 'end',
      size: 13,
      fill: INK.soft,
    }),
  );
  const best = references[0];
  return frame(
    { width, height: floor + 46 },
    {
      title: `Spectrum ${query.label}${best ? ` over ${best.label}` : ''}`,
      description: `${given.technique === 'infrared' ? 'Infrared' : 'Raman'} spectrum from ${Math.round(low)} to ${Math.round(high)} cm⁻¹ above ${references.length} references. ${leftOver ? `${escaped(leftOver.label)}. ` : ''}Bands there: ${listed(given.found)}. Bands missing: ${listed(given.missing)}.`,
    },
    given.name,
    parts.join(''),
  );
}

const listed = (bands: readonly number[]): string => (bands.length > 0 ? escaped(bands.join(', ')) : 'none');

/** The lane of what a family's best reference leaves over; `share` is that of the squares. */
export const leftOverLine = (
  family: string,
  left: Pick<SpectrumLine, 'axis' | 'height'> & { readonly share: number },
): SpectrumLine => ({
  label: `left over after ${family}: ${left.share < 0.01 ? 'less than 1' : Math.round(100 * left.share)} % of the signal`,
  axis: left.axis,
  height: left.height,
});

/** Heights are cut at the lane's ends; what is left over goes both ways from its middle. */
const heightOf = (bothWays: boolean, h: number): number =>
  bothWays ? 0.4 + Math.max(-0.4, Math.min(h, 0.6)) : Math.max(-0.05, Math.min(h, 1));

/** A label that fits the picture, at about seven pixels a letter. */
function shortened(label: string, width: number): string {
  const most = Math.floor((width - 24) / 7.2);
  return label.length > most ? `${label.slice(0, most - 1)}…` : label;
}

function ticks(low: number, high: number): number[] {
  const step = high - low > 2000 ? 500 : high - low > 800 ? 200 : 100;
  const found: number[] = [];
  for (let at = Math.ceil(low / step) * step; at <= high; at += step) found.push(at);
  return found;
}

function pathOf(
  line: SpectrumLine,
  low: number,
  high: number,
  x: (at: number) => number,
  y: (height: number) => number,
): string {
  let d = '';
  for (let k = 0; k < line.axis.length; k++) {
    const at = line.axis[k]!;
    if (at < low || at > high) continue;
    d += `${d === '' ? 'M' : 'L'}${x(at).toFixed(1)} ${y(line.height[k]!).toFixed(1)}`;
  }
  return d;
}
