/** What is asked of a plan, with its units in the names; whatever is left out is assumed, and said. */
import type { Aim, PlanWish } from '../../science/counting/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

export interface PlanAsked {
  readonly aim?: Aim;
  readonly background_per_run?: number;
  /** Release that is expected, or that matters; null: not said, so that no chance is given. */
  readonly release_per_gram?: number | null;
  /** How much like runs differ beyond the chance of counting, as a share of their mean (coefficient of variation). */
  readonly scatter?: number;
  readonly portion_g?: number;
  readonly recovery?: number;
  readonly passed?: number;
  readonly examined?: number;
  readonly pieces_per_spike?: number;
  readonly hours_available?: number | null;
  readonly hours_per_specimen_run?: number;
  readonly hours_per_control?: number;
  readonly hours_per_spiked_run?: number;
  /** Hours to test one piece; null: no piece is tested. */
  readonly hours_per_test?: number | null;
  /** Share of the kept pieces that tests are expected to confirm. */
  readonly true_share?: number;
  /** Runs that are there, or that can be made; null: not said. */
  readonly specimen_runs?: number | null;
  readonly controls?: number | null;
  readonly spiked_runs?: number | null;
  readonly confidence?: number;
}

/** One number that the plan rests on. */
export interface Assumed {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly given: boolean;
  /** Why this one where none was given. */
  readonly because: string;
}

export interface PlanRefusal extends Refusal {
  readonly why: 'out-of-range' | 'not-whole' | 'nothing-to-plan';
}

interface Default {
  readonly field: keyof PlanAsked;
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly because: string;
  readonly allowed: string;
  readonly fits: (n: number) => boolean;
}

const share = (n: number): boolean => n > 0 && n <= 1;
const above0 = (n: number): boolean => n > 0 && n <= 1e6;
const A_SHARE = 'a share above 0, up to 1';
const HOURS = 'above 0 and at most 1000 hours';
const perRun = (n: number): boolean => n > 0 && n <= 1000;

/** Recovery differs between runs by this much (standard deviation). Common practice, no source. */
const RECOVERY_SD = 0.05;

const DEFAULTS: readonly Default[] = [
  {
    field: 'background_per_run',
    name: 'Background',
    value: 5,
    unit: 'particles per run',
    because: 'a careful kitchen laboratory; common practice, no source. Your first three blanks say better',
    allowed: 'from 0 to 100000 particles',
    fits: (n) => n >= 0 && n <= 100_000,
  },
  {
    field: 'scatter',
    name: 'Scatter between runs',
    value: 0.4,
    unit: 'share of the mean',
    because:
      'runs differ by more than the chance of counting; common practice, no source. 0 is the best case, 1 is strong',
    allowed: 'from 0 to 1.5',
    fits: (n) => n >= 0 && n <= 1.5,
  },
  {
    field: 'portion_g',
    name: 'Portion',
    value: 1,
    unit: 'g',
    because: 'one gram, so that figures read per gram',
    allowed: 'above 0 g',
    fits: above0,
  },
  {
    field: 'recovery',
    name: 'Recovery',
    value: 0.8,
    unit: 'share',
    because: 'published recovery of known pieces is often 50 to 90 %',
    allowed: A_SHARE,
    fits: share,
  },
  {
    field: 'passed',
    name: 'Liquid that passes the filter',
    value: 1,
    unit: 'share',
    because: 'all of it, unless the filter clogs',
    allowed: A_SHARE,
    fits: share,
  },
  {
    field: 'examined',
    name: 'Filter that is examined',
    value: 1,
    unit: 'share',
    because: 'the whole filter is photographed',
    allowed: A_SHARE,
    fits: share,
  },
  {
    field: 'pieces_per_spike',
    name: 'Known pieces in a spiked run',
    value: 40,
    unit: 'pieces',
    because: 'enough to know a recovery near 80 % to 6 % from one run',
    allowed: 'a whole number from 1 to 10000',
    fits: (n) => Number.isSafeInteger(n) && n >= 1 && n <= 10_000,
  },
  {
    field: 'hours_per_specimen_run',
    name: 'Work on a specimen run',
    value: 3,
    unit: 'h',
    because: 'preparing, filtering, photographing and marking; common practice, no source',
    allowed: HOURS,
    fits: perRun,
  },
  {
    field: 'hours_per_control',
    name: 'Work on a control',
    value: 2.5,
    unit: 'h',
    because: 'the same steps, fewer particles to mark; common practice, no source',
    allowed: HOURS,
    fits: perRun,
  },
  {
    field: 'hours_per_spiked_run',
    name: 'Work on a spiked run',
    value: 3,
    unit: 'h',
    because: 'the same steps, and the pieces to count in; common practice, no source',
    allowed: HOURS,
    fits: perRun,
  },
  {
    field: 'true_share',
    name: 'Kept pieces that a test confirms',
    value: 0.8,
    unit: 'share',
    because: 'by eye some natural pieces are kept; common practice, no source',
    allowed: A_SHARE,
    fits: share,
  },
  {
    field: 'confidence',
    name: 'Confidence',
    value: 0.95,
    unit: 'share',
    because: 'usual',
    allowed: 'from 0.8 to 0.999',
    fits: (n) => n >= 0.8 && n <= 0.999,
  },
];

/** What may be left out altogether: then it is not planned with. */
const OPEN: readonly Pick<Default, 'field' | 'name' | 'unit' | 'allowed' | 'fits'>[] = [
  {
    field: 'release_per_gram',
    name: 'Release',
    unit: 'particles per gram',
    allowed: 'above 0 and at most a million',
    fits: above0,
  },
  {
    field: 'hours_available',
    name: 'Hours there are',
    unit: 'h',
    allowed: 'above 0 and at most 100000',
    fits: (n) => n > 0 && n <= 100_000,
  },
  { field: 'hours_per_test', name: 'Work on testing a piece', unit: 'h', allowed: HOURS, fits: perRun },
  ...(['specimen_runs', 'controls', 'spiked_runs'] as const).map((field) => ({
    field,
    name: { specimen_runs: 'Specimen runs', controls: 'Controls', spiked_runs: 'Spiked runs' }[field],
    unit: 'runs',
    allowed: 'a whole number from 0 to 200',
    fits: (n: number) => Number.isSafeInteger(n) && n >= 0 && n <= 200,
  })),
];

export interface PlanRead {
  readonly wish: PlanWish;
  readonly release: number | null;
  readonly hours: number | null;
  readonly have: { readonly specimens: number; readonly controls: number; readonly spikes: number } | null;
  readonly aim: Aim;
  readonly assumed: readonly Assumed[];
}

const refuse = (of: Pick<Default, 'name' | 'unit' | 'allowed'>, given: number) =>
  refused<PlanRefusal>({
    why: 'out-of-range',
    message: `${of.name}: given ${given} ${of.unit}; allowed is ${of.allowed}.`,
  });

/** Reads a plan's numbers: what is left out is assumed and said, what cannot be is refused by name. */
export function readPlan(asked: PlanAsked): Outcome<PlanRead, PlanRefusal> {
  const numbers = new Map<keyof PlanAsked, number>();
  const assumed: Assumed[] = [];
  for (const of of DEFAULTS) {
    const given = asked[of.field];
    const value = typeof given === 'number' ? given : of.value;
    if (!of.fits(value)) return refuse(of, value);
    numbers.set(of.field, value);
    if (of.field === 'true_share' && typeof asked.hours_per_test !== 'number') continue;
    assumed.push({
      name: of.name,
      value,
      unit: of.unit,
      given: typeof given === 'number',
      because: typeof given === 'number' ? '' : of.because,
    });
  }
  for (const of of OPEN) {
    const given = asked[of.field];
    if (typeof given !== 'number') continue;
    if (!of.fits(given)) return refuse(of, given);
    assumed.push({ name: of.name, value: given, unit: of.unit, given: true, because: '' });
  }
  const n = (field: keyof PlanAsked): number => numbers.get(field)!;
  const release = asked.release_per_gram ?? null;
  const runs = [asked.specimen_runs, asked.controls, asked.spiked_runs];
  const have = runs.some((count) => typeof count === 'number')
    ? { specimens: asked.specimen_runs ?? 0, controls: asked.controls ?? 0, spikes: asked.spiked_runs ?? 0 }
    : null;
  const scatter = n('scatter') ** 2;
  return done({
    release,
    have,
    hours: asked.hours_available ?? null,
    aim: asked.aim ?? 'amount',
    assumed,
    wish: {
      truth: {
        background: n('background_per_run'),
        releasePerGram: release ?? 0,
        backgroundScatter: scatter,
        releaseScatter: scatter,
        recovery: n('recovery'),
        recoverySd: Math.min(RECOVERY_SD, (1 - n('recovery')) / 2),
      },
      massG: n('portion_g'),
      fraction: n('passed') * n('examined'),
      hours: {
        specimen: n('hours_per_specimen_run'),
        control: n('hours_per_control'),
        spike: n('hours_per_spiked_run'),
        available: asked.hours_available ?? 0,
      },
      addedPerSpike: n('pieces_per_spike'),
      confidence: n('confidence'),
      ...(typeof asked.hours_per_test === 'number'
        ? { confirming: { hoursPerPiece: asked.hours_per_test, trueShare: n('true_share') } }
        : {}),
    },
  });
}
