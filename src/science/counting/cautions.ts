import type { CountingInput } from './counting-input.ts';
import { MINIMUM_DESIGN } from './design-minimum.ts';
import type { Caution, Judgement } from './judgement.ts';
import type { NetEstimate } from './net-estimate.ts';

/** Convention of drinking-water work (from memory, unverified): correct, and flag, outside 70–130 %. */
const LEAST_RECOVERY = 0.7;
/** Scatter is called beyond Poisson at this p. */
const SCATTER_P = 0.05;

const percent = (x: number): string => `${Math.round(100 * x)} %`;

/** Everything that a reader of the number must know about how far it holds. */
export function cautionsOf(
  judged: Omit<Judgement, 'cautions'>,
  input: CountingInput,
  net: NetEstimate,
): Caution[] {
  const out: Caution[] = [];
  const add = (why: Caution['why'], message: string): void => {
    out.push({ why, message });
  };
  const { specimens, controls } = judged;
  if (!judged.meetsMinimum) {
    add(
      'controls-assumed-poisson',
      `With ${specimens.runs} specimen ${specimens.runs === 1 ? 'run' : 'runs'} and ${controls.runs} ${controls.runs === 1 ? 'control' : 'controls'} the decision ${net.joint ? 'rests' : 'and the interval rest'} on the assumption that runs scatter no more than Poisson; ${MINIMUM_DESIGN} would free it from that.`,
    );
  }
  if (specimens.runs === 1) {
    add('one-specimen-run', 'One specimen run cannot show how much specimens differ from each other.');
  }
  if (controls.scatter && controls.scatter.p < SCATTER_P) {
    add(
      'controls-scatter',
      `Controls scatter ${controls.scatter.index.toFixed(1)} times as much as Poisson (p = ${controls.scatter.p.toPrecision(2)}): the plain Poisson rules call too many excesses.`,
    );
  }
  if (specimens.scatter && specimens.scatter.p < SCATTER_P) {
    add(
      'specimens-scatter',
      `Specimen runs scatter ${specimens.scatter.index.toFixed(1)} times as much as Poisson.`,
    );
  }
  if (net.scatter > 1) {
    add(
      'interval-widened-for-scatter',
      `The interval is widened for scatter of ${net.scatter.toFixed(2)} times Poisson between runs.`,
    );
  }
  if (input.confirmation && !net.joint) {
    add(
      'confirmation-not-used',
      'The pieces that were tested are left out of the number: there are too few runs to work them in.',
    );
  }
  if (judged.netPerGram.upper < 0) {
    add(
      'controls-above-specimens',
      'Controls hold clearly more particles than specimens do: look for what only the controls went through.',
    );
  }
  if (net.limitHeld) {
    add(
      'limit-held-at-none-found',
      'The background is above the count; the upper limit is held at that of none found over none, and goes no lower.',
    );
  }
  if (judged.recovery === null) {
    add(
      'recovery-not-measured',
      'Recovery was not measured: losses are not in the number, so it may be too low.',
    );
  } else if (judged.recovery.value < LEAST_RECOVERY) {
    add(
      'recovery-outside-convention',
      `Only ${percent(judged.recovery.value)} of known pieces came back; the number is corrected for it, and rests on it.`,
    );
  }
  if (input.drill && !input.confirmation && judged.naturalKept === null) {
    add(
      'drill-needs-candidates',
      'How many natural pieces the scorer kept cannot be told without the number of candidates that were looked at: those that only specimens bring may still be in the count.',
    );
  }
  if (judged.naturalKept && judged.naturalKept.upper >= 0.5) {
    const { value, lower, upper } = judged.naturalKept;
    const of = [value, lower, upper].map((x) => Math.round(x));
    add(
      'natural-pieces-kept',
      `By the drill, about ${of[0]} (${of[1]} to ${of[2]}) of the pieces kept beyond the background may be natural ones; they are not taken off.`,
    );
  }
  const efforts = [...input.portions, ...input.controls].map((run) => run.passed * run.examined);
  if (Math.max(...efforts) > 1.5 * Math.min(...efforts) && judged.meetsMinimum) {
    add(
      'efforts-differ',
      'Runs were looked at to different extents: relabelling compares their rates, and is only near exact.',
    );
  }
  return out;
}
