import type { Step } from '../records/procedure.ts';
import type { Amounts } from '../records/tap.ts';
import { type BenchTap, minutesBetween, ofKind } from './standing-taps.ts';

export type StepState = 'to-do' | 'under-way' | 'done';

export interface Uncovered {
  /** Null: nobody said, or the clock that timed it ran backwards. */
  readonly minutes: number | null;
  readonly openings: number | null;
  readonly from: 'timed' | 'typed' | 'planned';
  /** Since when it stands open; null: it is covered. */
  readonly openSince: string | null;
}

export interface MarkAtBench {
  readonly tap: string;
  readonly filter: string | null;
  readonly at: string;
  readonly volumeMl: number;
}

/** What the taps say of one step. */
export interface StepRecord {
  readonly step: Step;
  readonly state: StepState;
  readonly startedAt: string | null;
  readonly finishedAt: string | null;
  /** Null: not finished, never started by a tap, or timed by a clock that ran backwards. */
  readonly minutes: number | null;
  /** As measured; empty until it is finished. */
  readonly quantities: Amounts;
  readonly uncovered: Uncovered;
  readonly marks: readonly MarkAtBench[];
  readonly notes: readonly string[];
  /** What is wrong with the record, one sentence each; the record itself is kept as it was typed. */
  readonly problems: readonly string[];
}

const touching = (taps: readonly BenchTap[], key: string): readonly BenchTap[] =>
  taps.filter((tap) => 'step' in tap.deed && tap.deed.step === key);

/** What standing taps say of a step. The latest start and the latest finish count. */
export function recordOf(step: Step, standing: readonly BenchTap[]): StepRecord {
  const taps = touching(standing, step.key);
  const started = ofKind(taps, 'start').at(-1) ?? null;
  const finished = ofKind(taps, 'finish').at(-1) ?? null;
  const later = finished !== null && (started === null || taps.indexOf(finished) > taps.indexOf(started));
  const problems: string[] = [];
  let minutes: number | null = null;
  if (later && started) {
    minutes = minutesBetween(started.at, finished.at);
    if (minutes === null) {
      problems.push(
        `“${step.key}” ends before it begins by the clock of the device: how long it took is not known; set the clock and type the minutes.`,
      );
    }
  }
  const uncovered = uncoveredOf(step, taps, problems);
  return {
    step,
    state: later ? 'done' : started ? 'under-way' : 'to-do',
    startedAt: started?.at ?? null,
    finishedAt: later ? finished.at : null,
    minutes,
    quantities: later ? finished.deed.quantities : {},
    uncovered,
    marks: ofKind(taps, 'volume-mark').map((tap) => ({
      tap: tap.id,
      filter: tap.deed.filter,
      at: tap.at,
      volumeMl: tap.deed.volume_ml,
    })),
    notes: ofKind(taps, 'note').map((tap) => tap.deed.text),
    problems,
  };
}

function uncoveredOf(step: Step, taps: readonly BenchTap[], problems: string[]): Uncovered {
  let openSince: string | null = null;
  let minutes: number | null = 0;
  let openings = 0;
  for (const tap of taps) {
    if (tap.deed.do === 'uncover' && openSince === null) {
      openSince = tap.at;
      openings += 1;
    }
    if (tap.deed.do === 'cover' && openSince !== null) {
      const apart = minutesBetween(openSince, tap.at);
      minutes = minutes === null || apart === null ? null : minutes + apart;
      openSince = null;
    }
  }
  if (minutes === null) {
    problems.push(
      `“${step.key}” is covered before it is uncovered by the clock of the device: how long it stood open is not known; type the minutes.`,
    );
  }
  const typed = ofKind(taps, 'exposure').at(-1);
  if (typed) {
    const { minutes: said, openings: times } = typed.deed;
    return { minutes: said, openings: times, from: 'typed', openSince };
  }
  // To a tenth: nobody taps more exactly than that.
  const rounded = minutes === null ? null : Math.round(minutes * 10) / 10;
  if (openings > 0) return { minutes: rounded, openings, from: 'timed', openSince };
  return { minutes: step.minutesUncovered, openings: step.openings, from: 'planned', openSince: null };
}

/** The step as it was measured: what was tapped where it was tapped, the edition's words elsewhere. */
export function asMeasured({ step, state, quantities, uncovered, minutes }: StepRecord): Step {
  const timed: Amounts =
    state === 'done' && minutes !== null && 'minutes' in step.quantities && !('minutes' in quantities)
      ? { minutes: Math.round(minutes * 10) / 10 }
      : {};
  return {
    ...step,
    quantities: { ...step.quantities, ...timed, ...quantities },
    minutesUncovered: uncovered.from === 'planned' ? step.minutesUncovered : uncovered.minutes,
    openings: uncovered.from === 'planned' ? step.openings : uncovered.openings,
  };
}
