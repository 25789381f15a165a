import { element, escaped, frame, INK, text } from './markup.ts';

export const COVERAGE_GRADES = ['same', 'scaled', 'different', 'unknown', 'missing'] as const;
export type CoverageGrade = (typeof COVERAGE_GRADES)[number];

export interface CoverageThread {
  /** The control whose thread this is. */
  readonly control: string;
  /** One grade for each step, in order. */
  readonly grades: readonly CoverageGrade[];
}

export interface CoverageBand {
  readonly steps: readonly string[];
  readonly threads: readonly CoverageThread[];
  readonly width: number;
  readonly name: string;
}

const HEIGHT = 34;

/**
 * Coverage as a woven band: steps of the run hang as warp, each control is a weft. Where a control repeats the
 * step its thread passes over it; scaled is a thinner pass; different is a break; unknown a dotted trace; where the
 * control has no such step there is no thread.
 */
export function coverageBand(given: CoverageBand): string {
  const { steps, threads, width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  for (const thread of threads) {
    if (thread.grades.length !== steps.length) {
      throw new RangeError(
        `thread ${thread.control}: ${steps.length} grades are needed, given ${thread.grades.length}`,
      );
    }
  }
  const wide = width >= 640;
  const longest = Math.max(0, ...threads.map((thread) => thread.control.length));
  const left = wide ? Math.min(230, longest * 7.6 + 22) : 12;
  const right = width - 12;
  const step = (right - left) / Math.max(1, steps.length);
  const slanted = step < Math.max(1, ...steps.map((name) => name.length)) * 7.6;
  const head = slanted ? Math.min(130, 16 + Math.max(0, ...steps.map((name) => name.length)) * 6) : 30;
  const tall = wide ? HEIGHT : HEIGHT + 20;
  const floor = head + threads.length * tall + 8;
  const middle = (k: number) => left + (k + 0.5) * step;
  const warp = Math.min(14, step * 0.4);
  const parts: string[] = [];
  steps.forEach((name, k) => {
    parts.push(
      element('rect', {
        x: middle(k) - warp / 2,
        y: head,
        width: warp,
        height: floor - head,
        fill: INK.rule,
        class: 'warp',
      }),
      slanted
        ? element(
            'text',
            {
              transform: `translate(${Math.round(middle(k) + 4)} ${head - 6}) rotate(-45)`,
              'font-size': 13,
              fill: INK.soft,
              'aria-hidden': 'true',
            },
            escaped(name),
          )
        : text(name, { x: middle(k), y: head - 10, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  });
  threads.forEach((thread, row) => {
    const y = head + row * tall + (wide ? HEIGHT / 2 + 4 : HEIGHT / 2 + 22);
    parts.push(
      wide
        ? text(thread.control, { x: left - 12, y: y + 5, anchor: 'end', size: 15 })
        : text(thread.control, { x: left, y: y - 16, size: 14, weight: 600 }),
    );
    thread.grades.forEach((grade, k) => {
      parts.push(pass(grade, left + k * step, step, y, `${thread.control}, ${steps[k]}: ${grade}`));
    });
  });
  return frame(
    { width, height: floor + 4 },
    { title: 'Which controls repeat which steps', description: inWords(given) },
    given.name,
    parts.join(''),
  );
}

function pass(grade: CoverageGrade, x: number, width: number, y: number, name: string): string {
  if (grade === 'missing')
    return element('g', { class: 'pass missing' }, element('title', {}, escaped(name)));
  const stroke = {
    same: { stroke: INK.accent, 'stroke-width': 10 },
    scaled: { stroke: INK.accent, 'stroke-width': 4 },
    different: { stroke: INK.warn, 'stroke-width': 2 },
    unknown: { stroke: INK.soft, 'stroke-width': 3, 'stroke-dasharray': '1 6', 'stroke-linecap': 'round' },
  }[grade];
  const line =
    grade === 'different'
      ? element('path', {
          d: `M${Math.round(x)} ${y}h${Math.round(width * 0.22)}m0 -6v12M${Math.round(x + width)} ${y}h${-Math.round(width * 0.22)}m0 -6v12`,
          fill: 'none',
          ...stroke,
        })
      : element('line', { x1: x, x2: x + width, y1: y, y2: y, ...stroke });
  return element('g', { class: `pass ${grade}` }, element('title', {}, escaped(name)) + line);
}

function inWords(given: CoverageBand): string {
  if (given.threads.length === 0) return 'No control repeats any step yet.';
  return given.threads
    .map((thread) => {
      const broken = given.steps.filter((_, k) => thread.grades[k] === 'different');
      const unknown = given.steps.filter((_, k) => thread.grades[k] === 'unknown');
      const missing = given.steps.filter((_, k) => thread.grades[k] === 'missing');
      if (broken.length + unknown.length + missing.length === 0)
        return `${thread.control} repeats every step.`;
      const said = [
        missing.length > 0 ? `has no ${missing.join(', ')}` : '',
        broken.length > 0 ? `differs at ${broken.join(', ')}` : '',
        unknown.length > 0 ? `is unknown at ${unknown.join(', ')}` : '',
      ].filter(Boolean);
      return `${thread.control} ${said.join(' and ')}.`;
    })
    .join(' ');
}
