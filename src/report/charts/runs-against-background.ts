import { axisTicks, figure } from './figures.ts';
import { coordinate, element, escaped, frame, INK, link, text } from './markup.ts';

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
  /** Above this a run stands out from the background; null when not known. */
  readonly threshold: number | null;
  readonly unit: string;
  readonly width: number;
  readonly name: string;
}

const RADIUS = 6.5;
const GAP = 2;
const HEAD = 34;

/**
 * Dots of runs against the background band: one strip for each group, equal counts stacked so that no dot hides
 * another (a beeswarm without chance). Hollow dots are controls, squares spiked runs; a run that nobody counted
 * stands in a gutter of its own.
 */
export function runsAgainstBackground(given: RunsAgainstBackground): string {
  const { runs, background, threshold, width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  const groups = [...new Set(runs.map((run) => run.group))];
  const wide = width >= 640;
  const longest = Math.max(0, ...groups.map((group) => group.length));
  const left = wide ? Math.min(220, Math.max(96, longest * 7.6 + 20)) : 12;
  const uncounted = runs.some((run) => run.found === null);
  const gutter = uncounted ? (wide ? 104 : 64) : 0;
  const right = width - gutter - 22;

  const highest = Math.max(
    1,
    ...runs.map((run) => run.found ?? 0),
    background?.upper ?? 0,
    background?.expected ?? 0,
    threshold ?? 0,
  );
  const ticks = axisTicks(0, highest, wide ? 8 : 4);
  const end = ticks[ticks.length - 1]!;
  const x = (found: number) => left + (found / end) * (right - left);

  let y = HEAD;
  const strips = groups.map((group) => {
    const own = runs.filter((run) => run.group === group);
    const placed = swarm(own, x);
    const lanes = Math.max(1, ...placed.map((dot) => dot.lane + 1));
    const headroom = wide ? 0 : 22;
    const height = headroom + lanes * (2 * RADIUS + GAP) + 18;
    const strip = { group, placed, top: y, headroom, height, base: y + height - 9 - RADIUS };
    y += height;
    return strip;
  });
  const floor = y;
  const height = floor + 46;

  const parts: string[] = [];
  if (background) {
    const from = x(background.lower);
    parts.push(
      element('rect', {
        x: from,
        y: HEAD - 6,
        width: Math.max(2, x(background.upper) - from),
        height: floor - HEAD + 6,
        fill: INK.band,
        class: 'background-band',
      }),
      element('line', {
        x1: x(background.expected),
        x2: x(background.expected),
        y1: HEAD - 6,
        y2: floor,
        stroke: INK.bandEdge,
        'stroke-width': 2,
      }),
      text('background', {
        x: Math.max(x(background.expected), left + (wide ? 0 : 34)),
        y: HEAD - 13,
        anchor: x(background.expected) - left < 46 ? 'start' : 'middle',
        fill: INK.bandEdge,
        size: 14,
        weight: 600,
      }),
    );
  }
  if (threshold !== null) {
    const at = x(threshold);
    const crowded = background !== null && at - x(background.expected) < 160;
    parts.push(
      element('line', {
        x1: at,
        x2: at,
        y1: HEAD - 6,
        y2: floor,
        stroke: INK.ink,
        'stroke-width': 1.25,
        'stroke-dasharray': '2 4',
        class: 'threshold',
      }),
      text('stands out beyond', {
        x: crowded ? Math.max(at, x(background.expected) + 96) : at,
        y: HEAD - 13,
        anchor: crowded ? 'start' : at > right - 130 ? 'end' : 'middle',
        size: 14,
        fill: INK.soft,
      }),
    );
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
  if (uncounted) {
    parts.push(
      text(wide ? 'not counted' : 'uncounted', {
        x: width - gutter / 2 - 4,
        y: floor + 20,
        anchor: 'middle',
        size: wide ? 14 : 12,
        fill: INK.soft,
      }),
    );
  }
  for (const strip of strips) {
    const rule = strip.top + strip.height;
    if (rule < floor) {
      parts.push(
        element('line', {
          x1: wide ? 0 : left,
          x2: width,
          y1: rule,
          y2: rule,
          stroke: INK.rule,
          'stroke-width': 1,
        }),
      );
    }
    parts.push(
      wide
        ? text(strip.group, { x: left - 16, y: strip.base + 5, anchor: 'end', size: 15 })
        : text(strip.group, { x: left - 12, y: strip.top + 18, size: 14, weight: 600 }),
    );
    for (const dot of strip.placed) {
      const at = dot.run.found === null ? width - gutter / 2 - 4 + dot.lane * 0 : x(dot.run.found);
      parts.push(drawn(dot.run, at, strip.base - dot.lane * (2 * RADIUS + GAP)));
    }
  }
  const holdsLinks = runs.some((run) => run.href !== undefined);
  return frame(
    { width, height },
    { title: 'Runs against the background', description: inWords(given, groups) },
    given.name,
    parts.join(''),
    holdsLinks,
  );
}

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

function inWords(given: RunsAgainstBackground, groups: readonly string[]): string {
  const lines = groups.map((group) => {
    const own = given.runs.filter((run) => run.group === group);
    const counted = own.flatMap((run) => (run.found === null ? [] : [run.found])).sort((a, b) => a - b);
    const missing = own.length - counted.length;
    const list = counted.length === 0 ? 'none counted' : counted.map(figure).join(', ');
    return `${group}: ${list}${missing > 0 ? `; ${missing} not counted` : ''}.`;
  });
  const { background: b, threshold: t } = given;
  lines.push(
    b
      ? `Background: ${figure(b.expected)} expected, ${figure(b.lower)} to ${figure(b.upper)}.`
      : 'Background: not known, no control speaks for it.',
  );
  if (t !== null) lines.push(`A run stands out beyond ${figure(t)}.`);
  return lines.join(' ');
}
