import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import { belowFalseFloor, candidatesOf } from './false-keeps.ts';
import type { RecoveryStratum } from './joint/strata-recovery.ts';

/** One specimen run as counted: what was found, from how much, and how much of it was looked at. */
export interface CountedPortion {
  readonly name: string;
  /** Particles kept. */
  readonly count: number;
  readonly massG: number;
  /** Pieces of product in the portion, where the answer is wanted per piece too. */
  readonly pieces?: number;
  /** Share of the run's liquid that passed the filters, above 0 to 1. */
  readonly passed: number;
  /** Share of the filters' area that was counted, above 0 to 1. */
  readonly examined: number;
  /** All particles that were looked at and decided on, dropped ones too, where known. */
  readonly candidates?: number;
  /** Relative standard uncertainty of passed × examined, where known. */
  readonly effortUncertainty?: number;
}

/** One control run as counted. */
export interface CountedControl {
  readonly name: string;
  /** Kind of control, in the laboratory's words: procedural blank, act control … */
  readonly kind: string;
  readonly count: number;
  readonly passed: number;
  readonly examined: number;
  readonly candidates?: number;
  readonly effortUncertainty?: number;
}

export interface CountingInput {
  readonly portions: readonly CountedPortion[];
  /** The matching controls, each of the same full effort as one specimen run. */
  readonly controls: readonly CountedControl[];
  /** Known pieces found again of those added, all spiked runs together. Null: not measured. */
  readonly recovery: { readonly found: number; readonly added: number } | null;
  /** The spiked runs one by one, where known: recovery then carries its own scatter between runs. Their sum is `recovery`. */
  readonly spikes?: readonly { readonly found: number; readonly added: number }[];
  /** The spiked runs by size or shape, with the pieces counted of each on either side: recovery is then weighed by them. */
  readonly strata?: readonly RecoveryStratum[];
  /** Earlier controls of the laboratory, by the batches they were run in: they tell how much controls scatter. */
  readonly history?: readonly (readonly Pick<CountedControl, 'count' | 'passed' | 'examined'>[])[];
  /** A random part of the counted pieces that was tested, on each side: called true, of tested. */
  readonly confirmation?: {
    readonly specimens: { readonly positive: number; readonly tested: number };
    readonly controls: { readonly positive: number; readonly tested: number };
  } | null;
  /** The scorer on known pieces: true ones kept of n, natural ones kept of n. Null: no drill. */
  readonly drill: {
    readonly truePositive: readonly [number, number];
    readonly falsePositive: readonly [number, number];
  } | null;
  /** Two-sided confidence of intervals; the decision is one-sided at 1 − confidence. */
  readonly confidence: number;
}

export interface CountingRefusal extends Refusal {
  readonly why:
    | 'no-portions'
    | 'no-controls'
    | 'count-not-whole'
    | 'mass-missing'
    | 'pieces-not-above-zero'
    | 'fraction-zero'
    | 'fraction-out-of-range'
    | 'uncertainty-out-of-range'
    | 'candidates-too-few'
    | 'recovery-not-counts'
    | 'recovery-above-one'
    | 'recovery-zero'
    | 'nothing-tested'
    | 'drill-not-counts'
    | 'drill-contradicts'
    | 'below-false-positive-floor'
    | 'confidence-out-of-range';
  /** Which portion or control, where there is one. */
  readonly where: string | null;
  readonly given: string;
  readonly allowed: string;
}

const refuse = (
  why: CountingRefusal['why'],
  where: string | null,
  given: unknown,
  allowed: string,
  sentence: string,
): Outcome<never, CountingRefusal> =>
  refused({
    why,
    where,
    given: String(given),
    allowed,
    message: `${sentence} Given: ${given}; allowed: ${allowed}.`,
  });

const whole = (n: number): boolean => Number.isSafeInteger(n) && n >= 0;
const WHOLE = 'a whole number from 0';
const SHARE = 'a number above 0, up to 1';

function checkRun(
  run: CountedPortion | CountedControl,
  called: string,
): Outcome<never, CountingRefusal> | null {
  const where = `${called} “${run.name}”`;
  if (!whole(run.count)) {
    return refuse(
      'count-not-whole',
      where,
      run.count,
      WHOLE,
      `The count of ${where} is not a count of particles.`,
    );
  }
  for (const [what, share] of [
    ['passed through the filters', run.passed],
    ['was examined', run.examined],
  ] as const) {
    if (share === 0) {
      const sentence = `Nothing of ${where} ${what}, so it was not measured: leave it out, or give the share that was.`;
      return refuse('fraction-zero', where, share, SHARE, sentence);
    }
    if (!(share > 0 && share <= 1)) {
      return refuse(
        'fraction-out-of-range',
        where,
        share,
        SHARE,
        `The share of ${where} that ${what} is out of range.`,
      );
    }
  }
  if (run.effortUncertainty !== undefined && !(run.effortUncertainty >= 0 && run.effortUncertainty < 1)) {
    const sentence = `The uncertainty of what of ${where} was looked at is out of range.`;
    return refuse(
      'uncertainty-out-of-range',
      where,
      run.effortUncertainty,
      'a relative uncertainty from 0, below 1',
      sentence,
    );
  }
  if (run.candidates !== undefined && !(whole(run.candidates) && run.candidates >= run.count)) {
    const allowed = `a whole number from ${run.count}, the count kept`;
    return refuse(
      'candidates-too-few',
      where,
      run.candidates,
      allowed,
      `The candidates of ${where} do not fit its count.`,
    );
  }
  return null;
}

function checkRate(pair: readonly [number, number], what: string): Outcome<never, CountingRefusal> | null {
  const [kept, shown] = pair;
  if (whole(kept) && whole(shown) && shown > 0 && kept <= shown) return null;
  const allowed = 'two whole numbers, kept of shown, with kept at most shown and shown above 0';
  return refuse('drill-not-counts', null, `${kept}/${shown}`, allowed, `The drill’s ${what} are not counts.`);
}

/** Accepts counts that can be judged, or says which one cannot, what was given and what is allowed. */
export function checkCounts(input: CountingInput): Outcome<CountingInput, CountingRefusal> {
  const { portions, controls, recovery, drill, confidence } = input;
  if (!(confidence > 0.5 && confidence < 1)) {
    return refuse(
      'confidence-out-of-range',
      null,
      confidence,
      'above 0.5 and below 1',
      'The confidence is out of range.',
    );
  }
  if (portions.length === 0) {
    return refuse(
      'no-portions',
      null,
      '0 portions',
      'at least 1',
      'There is no specimen run to judge: count one.',
    );
  }
  for (const portion of portions) {
    const bad = checkRun(portion, 'portion');
    if (bad) return bad;
    if (!(portion.massG > 0 && portion.massG < Infinity)) {
      const where = `portion “${portion.name}”`;
      return refuse(
        'mass-missing',
        where,
        portion.massG,
        'a mass above 0 g',
        `The mass of ${where} is missing.`,
      );
    }
  }
  for (const { name, pieces } of portions) {
    if (pieces !== undefined && !(pieces > 0 && pieces < Infinity)) {
      return refuse(
        'pieces-not-above-zero',
        `portion “${name}”`,
        pieces,
        'a number of pieces above 0',
        `The number of pieces in portion “${name}” is none.`,
      );
    }
  }
  for (const control of controls) {
    const bad = checkRun(control, 'control');
    if (bad) return bad;
  }
  if (recovery) {
    const { found, added } = recovery;
    const allowed = 'whole numbers, found of added, with added above 0';
    if (!(whole(found) && whole(added) && added > 0)) {
      return refuse(
        'recovery-not-counts',
        null,
        `${found}/${added}`,
        allowed,
        'The recovery is not counts of pieces.',
      );
    }
    if (found > added) {
      const sentence = `More known pieces were found than added, so some were broken, foreign or counted twice: count each piece once.`;
      return refuse('recovery-above-one', null, `${found}/${added}`, `found from 1 to ${added}`, sentence);
    }
    if (found === 0) {
      const sentence =
        'No known piece was found again, so nothing can be said of what was lost: repeat the spiked run.';
      return refuse('recovery-zero', null, `0/${added}`, `found from 1 to ${added}`, sentence);
    }
  }
  const spikes = input.spikes ?? [];
  if (spikes.length > 0) {
    const found = spikes.reduce((sum, spike) => sum + spike.found, 0);
    const added = spikes.reduce((sum, spike) => sum + spike.added, 0);
    const fits = spikes.every((s) => whole(s.found) && whole(s.added) && s.added > 0 && s.found <= s.added);
    if (!fits || recovery?.found !== found || recovery.added !== added) {
      const given = spikes.map((spike) => `${spike.found}/${spike.added}`).join(', ');
      const allowed = 'whole numbers, found of added, that add up to the recovery';
      return refuse('recovery-not-counts', null, given, allowed, 'The spiked runs do not fit the recovery.');
    }
  }
  if (drill) {
    const bad =
      checkRate(drill.truePositive, 'known plastic pieces') ??
      checkRate(drill.falsePositive, 'natural pieces');
    if (bad) return bad;
    const keptTrue = drill.truePositive[0] / drill.truePositive[1];
    const keptFalse = drill.falsePositive[0] / drill.falsePositive[1];
    if (keptTrue <= keptFalse) {
      const given = `${drill.truePositive.join('/')} true and ${drill.falsePositive.join('/')} natural pieces kept`;
      const sentence =
        'The drill shows that marks do not tell plastic from natural pieces: practise, or use another test.';
      return refuse(
        'drill-contradicts',
        null,
        given,
        'a larger share of true pieces kept than of natural ones',
        sentence,
      );
    }
  }
  if (drill && belowFalseFloor(input)) {
    const candidates = candidatesOf(portions);
    const kept = portions.reduce((sum, p) => sum + p.count, 0);
    const given = `${kept} kept of ${candidates} candidates, ${drill.falsePositive.join('/')} natural pieces kept in the drill`;
    const sentence =
      'Fewer candidates were kept than the drill keeps of natural pieces alone, so marks and drill contradict each other: repeat the drill with pieces like these.';
    return refuse(
      'below-false-positive-floor',
      null,
      given,
      'a kept share not below that of natural pieces',
      sentence,
    );
  }
  if (controls.length === 0) {
    const kept = portions.reduce((sum, p) => sum + p.count, 0);
    const sentence = `There is no control run, so the background is not known and the ${kept} counted cannot be interpreted: run a blank through every step.`;
    return refuse('no-controls', null, '0 controls', 'at least 1', sentence);
  }
  return done(input);
}
