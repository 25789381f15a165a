import { percent } from './figures.ts';
import { element, frame, INK, link, text } from './markup.ts';

/** What was looked at of one run. */
export interface LookedRun {
  readonly name: string;
  readonly href: string | null;
  /** Share of its liquid that is on filters looked at; null: not recorded (then all of it is taken to be) or not looked. */
  readonly passed: number | null;
  /** Share of those filters that was photographed and searched; null: nothing was looked at. */
  readonly examined: number | null;
  /** In words: “12”, “none seen”, “not looked”. */
  readonly count: string;
}

export interface LookedShares {
  readonly runs: readonly LookedRun[];
  readonly width: number;
  readonly name: string;
}

const ROW = 30;

/**
 * Each run as a bar of all its liquid: counted (filled), on the filter but not photographed (hatched), never on a filter
 * (empty). A run that nobody looked at is an empty dashed bar and never reads as none.
 */
export function lookedShares({ runs, width, name }: LookedShares): string {
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (runs.length === 0) throw new RangeError('runs: at least one is needed, given none');
  const wide = width >= 640;
  const longest = Math.max(...runs.map((run) => run.name.length));
  const left = wide ? Math.min(240, longest * 7.6 + 18) : 6;
  const counts = Math.max(72, ...runs.map((run) => run.count.length * 7.6 + 14));
  const right = width - counts;
  const tall = wide ? ROW : ROW + 20;
  const height = runs.length * tall + 6;
  const id = name.replaceAll(/[^A-Za-z0-9_-]/g, '-');
  const parts = [
    element(
      'defs',
      {},
      element(
        'pattern',
        {
          id: `${id}-hatch`,
          width: 7,
          height: 7,
          patternUnits: 'userSpaceOnUse',
          patternTransform: 'rotate(45)',
        },
        element('line', { x1: 3, x2: 3, y1: 0, y2: 7, stroke: INK.soft, 'stroke-width': 1.6 }),
      ),
    ),
  ];
  runs.forEach((run, k) => {
    const top = 4 + k * tall + (wide ? 0 : 20);
    const bar = bars(run, left, right, top, `${id}-hatch`);
    const label = wide
      ? text(run.name, { x: 0, y: top + 16, size: 15 })
      : text(run.name, { x: left, y: top - 5, size: 14 });
    const count = text(run.count, { x: width - 2, y: top + 16, anchor: 'end', size: 15, weight: 600 });
    const all = label + bar + count;
    parts.push(run.href === null ? all : link(run.href, sentenceOf(run), all));
  });
  return frame(
    { width, height },
    { title: 'What was looked at of each run', description: runs.map(sentenceOf).join(' ') },
    name,
    parts.join(''),
    runs.some((run) => run.href !== null),
  );
}

function bars(run: LookedRun, left: number, right: number, top: number, hatch: string): string {
  const long = right - left;
  const outline = element('rect', {
    x: left,
    y: top,
    width: long,
    height: 22,
    fill: 'none',
    stroke: INK.rule,
    'stroke-width': 1.5,
    'stroke-dasharray': run.examined === null ? '4 4' : null,
    class: run.examined === null ? 'whole not-looked' : 'whole',
  });
  if (run.examined === null) return outline;
  const passed = (run.passed ?? 1) * long;
  const counted = passed * run.examined;
  return (
    element('rect', { x: left, y: top, width: passed, height: 22, fill: `url(#${hatch})`, class: 'passed' }) +
    element('rect', { x: left, y: top, width: counted, height: 22, fill: INK.accent, class: 'counted' }) +
    outline
  );
}

function sentenceOf(run: LookedRun): string {
  if (run.examined === null) return `${run.name}: not looked at.`;
  const passed = run.passed === null ? 'passed not recorded' : `${percent(run.passed)} passed`;
  return `${run.name}: ${passed}, ${percent(run.examined)} of that photographed; ${run.count}.`;
}
