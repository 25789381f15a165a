import { type Step, TOUCHES } from '../records/procedure.ts';
import { kindOf } from '../step-kinds/index.ts';
import { plainWords } from './plain-words.ts';

export interface Alignment {
  /** Index of a run's step → index of the control's step that does the same. */
  readonly pairs: readonly (readonly [run: number, control: number])[];
  readonly missing: readonly number[];
  readonly extra: readonly number[];
}

/** How much each thing speaks for two steps being the same action; the kind must agree in any case. */
const SPEAKS: Readonly<Record<(typeof TOUCHES)[number], number>> = {
  vessel: 3,
  tool: 2,
  liquid: 3,
  reagentLot: 1,
  place: 1,
  person: 0.5,
  filterLot: 1,
  optics: 1,
};

function likeness(run: Step, control: Step, nearness: number): number {
  let speaks = nearness;
  if (plainWords(run.key) === plainWords(control.key)) speaks += 1.5;
  for (const what of TOUCHES) {
    const [x, y] = [run.touches[what], control.touches[what]];
    if (x === null || y === null) continue;
    speaks += plainWords(x) === plainWords(y) ? SPEAKS[what] : -SPEAKS[what] / 2;
  }
  for (const { name } of kindOf(run)?.quantities ?? []) {
    const [x, y] = [run.quantities[name], control.quantities[name]];
    if (x === undefined || y === undefined) continue;
    const larger = Math.max(Math.abs(x), Math.abs(y));
    speaks += larger === 0 ? 1 : 1 - Math.abs(x - y) / larger;
  }
  return speaks;
}

/**
 * Which step of the control repeats which step of the run: by what is done, to what and with what, not by position.
 * The likeliest pair is taken first, each step once; place in the order only breaks ties.
 */
export function align(run: readonly Step[], control: readonly Step[]): Alignment {
  const candidates: { speaks: number; run: number; control: number }[] = [];
  for (const [r, ours] of run.entries()) {
    for (const [c, theirs] of control.entries()) {
      if (ours.kind !== theirs.kind) continue;
      const apart = Math.abs(r / Math.max(1, run.length - 1) - c / Math.max(1, control.length - 1));
      candidates.push({ speaks: likeness(ours, theirs, 1 - apart), run: r, control: c });
    }
  }
  candidates.sort((a, b) => b.speaks - a.speaks || a.run - b.run || a.control - b.control);
  const ofRun = new Map<number, number>();
  const taken = new Set<number>();
  for (const { run: r, control: c } of candidates) {
    if (ofRun.has(r) || taken.has(c)) continue;
    ofRun.set(r, c);
    taken.add(c);
  }
  return {
    pairs: [...ofRun].sort(([a], [b]) => a - b),
    missing: run.flatMap((_, at) => (ofRun.has(at) ? [] : [at])),
    extra: control.flatMap((_, at) => (taken.has(at) ? [] : [at])),
  };
}
