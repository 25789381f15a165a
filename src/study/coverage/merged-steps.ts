import { type Step, TOUCHES } from '../records/procedure.ts';
import { kindOf } from '../step-kinds/index.ts';
import { plainWords } from './plain-words.ts';

/** Kinds that act on the sample itself: their order among each other always matters. */
const ON_THE_SAMPLE = new Set([
  'cut',
  'handle',
  'move',
  'soak',
  'shake',
  'digest',
  'settle',
  'decant',
  'float',
  'dilute',
  'sieve',
  'filter',
]);

/** Kinds whose number of times says how often the step was done; elsewhere (cuts, shakes) it counts strokes within it. */
const DONE_SO_OFTEN = new Set(['rinse', 'wash', 'move', 'photograph', 'score']);

const vesselOf = (step: Step): string | null =>
  step.touches.vessel === null ? null : plainWords(step.touches.vessel);
const toolOf = (step: Step): string | null =>
  step.touches.tool === null ? null : plainWords(step.touches.tool);

/** Whether it makes no difference which of two steps comes first: not both on the sample, and nothing in common. */
export function commute(a: Step, b: Step): boolean {
  if (ON_THE_SAMPLE.has(a.kind) && ON_THE_SAMPLE.has(b.kind)) return a.kind === b.kind && sameTouches(a, b);
  const vessels = [vesselOf(a), vesselOf(b)];
  const tools = [toolOf(a), toolOf(b)];
  const shareVessel = vessels[0] !== null && vessels[0] === vessels[1];
  const shareTool = tools[0] !== null && tools[0] === tools[1];
  return !shareVessel && !shareTool;
}

function sameTouches(a: Step, b: Step): boolean {
  return TOUCHES.every((what) => {
    const [x, y] = [a.touches[what], b.touches[what]];
    return x === y || (x !== null && y !== null && plainWords(x) === plainWords(y));
  });
}

/** One action written as two steps: the same kind on the same things, with the same conditions. */
function oneAction(a: Step, b: Step): boolean {
  if (a.kind !== b.kind || !sameTouches(a, b)) return false;
  const quantities = kindOf(a)?.quantities ?? [];
  return quantities.every(({ name, scales }) => {
    // What adds up may differ; a condition (temperature, pore) may not. Minutes add up.
    if (scales || name === 'minutes')
      return (a.quantities[name] === undefined) === (b.quantities[name] === undefined);
    return a.quantities[name] === b.quantities[name];
  });
}

const added = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? null : a + b;

function merged(a: Step, b: Step): Step {
  const kind = kindOf(a);
  const quantities: Record<string, number> = { ...a.quantities };
  for (const [name, amount] of Object.entries(b.quantities)) {
    const asked = kind?.quantities.find((q) => q.name === name);
    const adds = asked?.scales || name === 'minutes';
    quantities[name] = adds && quantities[name] !== undefined ? quantities[name] + amount : amount;
  }
  // A step that says no number of times is done once.
  if (DONE_SO_OFTEN.has(a.kind)) {
    quantities.times = (a.quantities.times ?? 1) + (b.quantities.times ?? 1);
  }
  return {
    ...a,
    quantities,
    minutesUncovered: added(a.minutesUncovered, b.minutesUncovered),
    openings: added(a.openings, b.openings),
  };
}

/** A step that says no number of times is done once; so "twice" and two steps, "once" and none said, are the same. */
const withTimes = (step: Step): Step =>
  DONE_SO_OFTEN.has(step.kind) && step.quantities.times === undefined
    ? { ...step, quantities: { ...step.quantities, times: 1 } }
    : step;

/** Steps with what was written in parts joined, wherever nothing in between makes a difference. */
export function mergedSteps(steps: readonly Step[]): readonly Step[] {
  const there = joined.get(steps);
  if (there) return there;
  const made = joinSteps(steps);
  joined.set(steps, made);
  return made;
}

/** The same list is joined once, though it is compared with every run. */
const joined = new WeakMap<readonly Step[], readonly Step[]>();

function joinSteps(steps: readonly Step[]): readonly Step[] {
  const out: Step[] = [];
  for (const given of steps) {
    const step = withTimes(given);
    let into = -1;
    for (let at = out.length - 1; at >= 0; at -= 1) {
      if (oneAction(out[at]!, step)) {
        into = at;
        break;
      }
      if (!commute(out[at]!, step)) break;
    }
    if (into >= 0) out[into] = merged(out[into]!, step);
    else out.push(step);
  }
  return out;
}
