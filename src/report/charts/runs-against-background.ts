import { axisTicks, figure } from './figures.ts';
import { type Attributes, coordinate, element, escaped, frame, INK, link, text } from './markup.ts';

export type RunKind = 'specimen' | 'control' | 'spiked';

/** One run as a dot. `found` is null when nobody counted it: it then stands beside the axis, never at nought. */
export interface RunDot {
  readonly name: string;
  readonly group: string;
  readonly kind: RunKind;
  /** Particles in the whole run (counted, divided by the shares passed and examined). */
  readonly found: number | null;
  /** False for a control that does not enter the background, or a run left out. */
  readonly counts: boolean;
  /** Why `found` is null or why the run does not count; shown in words. */
  readonly because?: string;
  readonly href?: string;
}

export interface RunsAgainstBackground {
  readonly runs: readonly RunDot[];
  /** Expected in a run without the product, with its interval; null when no control speaks for it. */
  readonly background: { readonly expected: number; readonly lower: number; readonly upper: number } | null;
  /** From here on the mean of a group of runs stands out from the background; null when not known. */
  readonly threshold: number | null;
  /** Mean of a group, by its name: drawn as an upright in its strip. */
  readonly means?: ReadonlyMap<string, number>;
  readonly unit: string;
  readonly width: number;
  readonly name: string;
}

const RADIUS = 6.5;
const GAP = 2;
const LANE = 2 * RADIUS + GAP;

/**
 * Dots of runs against the background band: one strip for each group, equal counts stacked so that no dot hides
 * another (a beeswarm without chance). Hollow dots are controls, squares spiked runs; a run that nobody counted
 * stands in a gutter of its own.
 */
export function runsAgainstBackground(given: RunsAgainstBackground): string {
  const { runs, width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  const layout = layOut(given);
  const { floor, wide, left, right, x, strips } = layout;
  const ticks = layout.ticks.map(
    (tick) =>
      element('line', { x1: x(tick), x2: x(tick), y1: floor, y2: floor + 5, stroke: INK.soft }) +
      text(figure(tick), { x: x(tick), y: floor + 20, anchor: 'middle', fill: INK.soft }),
  );
  const uncounted = layout.gutter === 0 ? '' : gutterName(width, layout);
  const parts = [
    ...behind(given, layout),
    ...ticks,
    element('line', { x1: left, x2: right, y1: floor, y2: floor, stroke: INK.soft }),
    text(given.unit, { x: right, y: floor + 39, anchor: 'end', fill: INK.soft }),
    uncounted,
    ...strips.flatMap((strip) => [
      strip.top + strip.height < floor ? rule(strip.top + strip.height, wide ? 0 : left, width) : '',
      wide
        ? text(strip.group, { x: left - 16, y: strip.base + 5, anchor: 'end', size: 15 })
        : text(strip.group, { x: left - 12, y: strip.top + 18, weight: 600 }),
      meanOf(strip, given.means?.get(strip.group), x),
      ...strip.placed.map(({ run, lane }) =>
        drawn(
          run,
          run.found === null ? width - layout.gutter / 2 - 4 : x(run.found),
          strip.base - lane * LANE,
        ),
      ),
    ]),
  ];
  return frame(
    { width, height: floor + 46 },
    { title: 'Runs against the background', description: inWords(given, strips) },
    given.name,
    parts.join(''),
    runs.some((run) => run.href !== undefined),
  );
}

interface Strip {
  readonly group: string;
  readonly placed: readonly Placed[];
  readonly top: number;
  /** Room for the group's name above its dots, on a narrow picture. */
  readonly headroom: number;
  readonly height: number;
  /** Height of the lowest lane. */
  readonly base: number;
}

interface Layout {
  readonly wide: boolean;
  readonly left: number;
  readonly right: number;
  readonly gutter: number;
  readonly head: number;
  readonly floor: number;
  readonly ticks: readonly number[];
  readonly x: (found: number) => number;
  readonly strips: readonly Strip[];
}

function layOut({ runs, background, threshold, means, width }: RunsAgainstBackground): Layout {
  const groups = [...new Set(runs.map((run) => run.group))];
  const wide = width >= 560;
  const longest = Math.max(0, ...groups.map((group) => group.length));
  const left = wide ? Math.min(200, Math.max(96, longest * 7.6 + 20)) : 12;
  const gutter = runs.some((run) => run.found === null) ? (wide ? 104 : 64) : 0;
  const right = width - gutter - 22;
  const found = [...runs.map((run) => run.found ?? 0), ...(means?.values() ?? [])];
  const highest = Math.max(1, ...found, background?.upper ?? 0, background?.expected ?? 0, threshold ?? 0);
  const ticks = axisTicks(0, highest, wide ? 8 : 4);
  const end = ticks[ticks.length - 1]!;
  const x = (at: number) => left + (at / end) * (right - left);
  const head = wide ? 34 : 8;
  let y = head;
  const strips = groups.map((group) => {
    const placed = swarm(
      runs.filter((run) => run.group === group),
      x,
    );
    const lanes = Math.max(1, ...placed.map((dot) => dot.lane + 1));
    const headroom = wide ? 0 : 24;
    const height = headroom + lanes * LANE + 18;
    const strip: Strip = { group, placed, top: y, headroom, height, base: y + height - 9 - RADIUS };
    y += height;
    return strip;
  });
  return { wide, left, right, gutter, head, floor: y, ticks, x, strips };
}

/** The background band and the threshold; on a narrow picture they pause where a group's name stands. */
function behind({ background: b, threshold }: RunsAgainstBackground, layout: Layout): string[] {
  const { x, wide, head, floor, strips, right } = layout;
  const stretches = wide
    ? [{ from: head - 6, to: floor }]
    : strips.map((strip) => ({ from: strip.top + strip.headroom, to: strip.top + strip.height }));
  const upright = (at: number, look: Attributes) =>
    stretches.map(({ from, to }) => element('line', { x1: at, x2: at, y1: from, y2: to, ...look }));
  const parts: string[] = [];
  if (b) {
    const width = Math.max(2, x(b.upper) - x(b.lower));
    parts.push(
      ...stretches.map(({ from, to }) =>
        element('rect', {
          x: x(b.lower),
          y: from,
          width,
          height: to - from,
          fill: INK.band,
          class: 'background-band',
        }),
      ),
      ...upright(x(b.expected), { stroke: INK.bandEdge, 'stroke-width': 2 }),
    );
    if (wide) {
      parts.push(text('background', { x: x(b.lower), y: head - 13, fill: INK.bandEdge, weight: 600 }));
    }
  }
  if (threshold !== null) {
    const at = x(threshold);
    parts.push(
      ...upright(at, { stroke: INK.ink, 'stroke-width': 1.5, 'stroke-dasharray': '2 4', class: 'threshold' }),
    );
    if (wide) {
      const free = b === null ? at : Math.max(at, x(b.lower) + 92);
      const late = free > right - 190;
      parts.push(
        text('a mean stands out from here', {
          x: late ? right : free,
          y: head - 13,
          anchor: late ? 'end' : 'start',
          fill: INK.soft,
        }),
      );
    }
  }
  return parts;
}

const meanOf = (strip: Strip, mean: number | undefined, x: Layout['x']): string =>
  mean === undefined
    ? ''
    : element('line', {
        x1: x(mean),
        x2: x(mean),
        y1: strip.top + strip.headroom + 3,
        y2: strip.top + strip.height - 3,
        stroke: INK.accent,
        'stroke-width': 3,
        class: 'mean',
      });

const rule = (y: number, from: number, to: number): string =>
  element('line', { x1: from, x2: to, y1: y, y2: y, stroke: INK.rule, 'stroke-width': 1 });

const gutterName = (width: number, { wide, gutter, floor }: Layout): string =>
  text(wide ? 'not counted' : 'uncounted', {
    x: width - gutter / 2 - 4,
    y: floor + 20,
    anchor: 'middle',
    size: wide ? 14 : 12,
    fill: INK.soft,
  });

interface Placed {
  readonly run: RunDot;
  readonly lane: number;
}

/** Lanes upwards from the strip's floor: a dot takes the lowest lane where it overlaps nobody. */
function swarm(runs: readonly RunDot[], x: (found: number) => number): readonly Placed[] {
  const lastInLane: number[] = [];
  let aside = 0;
  return [...runs]
    .sort((a, b) => (a.found ?? Infinity) - (b.found ?? Infinity))
    .map((run) => {
      if (run.found === null) return { run, lane: aside++ };
      const at = x(run.found);
      let lane = lastInLane.findIndex((taken) => at - taken >= 2 * RADIUS + GAP);
      if (lane < 0) lane = lastInLane.length;
      lastInLane[lane] = at;
      return { run, lane };
    });
}

function drawn(run: RunDot, cx: number, cy: number): string {
  const shape = mark(run, cx, cy);
  const name = sentence(run);
  return run.href === undefined
    ? element('g', {}, element('title', {}, escaped(name)) + shape)
    : link(run.href, name, element('circle', { cx, cy, r: 12, fill: 'transparent' }) + shape);
}

function mark(run: RunDot, cx: number, cy: number): string {
  const own = run.kind === 'specimen' ? INK.accent : INK.ink;
  const faint = run.counts ? null : 0.45;
  if (run.found === null) {
    const r = RADIUS - 1.5;
    return element('path', {
      d: `M${coordinate(cx - r)} ${coordinate(cy - r)}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`,
      stroke: INK.soft,
      'stroke-width': 2,
      class: 'run not-counted',
    });
  }
  if (run.kind === 'spiked') {
    return element('rect', {
      x: cx - RADIUS + 1,
      y: cy - RADIUS + 1,
      width: 2 * RADIUS - 2,
      height: 2 * RADIUS - 2,
      fill: INK.paper,
      stroke: own,
      'stroke-width': 2,
      opacity: faint,
      class: 'run spiked',
    });
  }
  return element('circle', {
    cx,
    cy,
    r: RADIUS - 1,
    fill: run.kind === 'specimen' && run.counts ? own : INK.paper,
    stroke: own,
    'stroke-width': 2,
    opacity: faint,
    'stroke-dasharray': run.counts ? null : '3 2',
    class: `run ${run.kind}`,
  });
}

function sentence(run: RunDot): string {
  const found = run.found === null ? 'not counted' : figure(run.found);
  return `${run.name}, ${run.group}: ${found}${run.because ? ` (${run.because})` : ''}`;
}

function inWords(given: RunsAgainstBackground, strips: readonly Strip[]): string {
  const lines = strips.map(({ group }) => {
    const own = given.runs.filter((run) => run.group === group);
    const counted = own.flatMap((run) => (run.found === null ? [] : [run.found])).sort((a, b) => a - b);
    const missing = own.length - counted.length;
    const list = counted.length === 0 ? 'none counted' : counted.map(figure).join(', ');
    const mean = given.means?.get(group);
    return `${group}: ${list}${mean === undefined ? '' : `, mean ${figure(mean)}`}${missing > 0 ? `; ${missing} not counted` : ''}.`;
  });
  const { background: b, threshold: t } = given;
  lines.push(
    b
      ? `Background: ${figure(b.expected)} expected, ${figure(b.lower)} to ${figure(b.upper)}.`
      : 'Background: not known, no control speaks for it.',
  );
  if (t !== null) lines.push(`A mean stands out from ${figure(t)}.`);
  return lines.join(' ');
}
