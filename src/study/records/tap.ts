/**
 * What a person says at the bench, one tap a line: kept in the order of the device, never changed; an undo is a further tap.
 * A tap travels and is stored in one shape, so its names carry their units.
 */
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import type { PersonId } from './laboratory.ts';
import { aStep, type Step } from './procedure.ts';
import {
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  notNegative,
  number,
  oneOf,
  orNull,
  positive,
  type Rule,
  type Rules,
  record,
  text,
} from './rules.ts';
import {
  DEVIATION_KINDS,
  type DeviationKind,
  FATES,
  type Fate,
  FRACTION_KINDS,
  type FractionKind,
  type RunId,
} from './run.ts';

export type TapId = Id<'tap'>;

/** Amounts by name with their unit: volume_ml, minutes. */
export interface Amounts {
  readonly [name: string]: number;
}

export interface TapDeeds {
  readonly begin: object;
  readonly start: { readonly step: string };
  readonly finish: { readonly step: string; readonly quantities: Amounts };
  /** The vessel is open from here on; `cover` ends it. */
  readonly uncover: { readonly step: string };
  readonly cover: { readonly step: string };
  /** Minutes and openings typed afterwards, instead of those that were timed. */
  readonly exposure: { readonly step: string; readonly minutes: number; readonly openings: number | null };
  readonly otherwise: {
    readonly step: string | null;
    readonly kind: DeviationKind;
    readonly as_done: Step | null;
    readonly what: string;
    readonly why: string;
  };
  readonly 'lay-filter': {
    readonly name: string;
    readonly material: string;
    readonly pore_um: number;
    readonly effective_diameter_mm: number;
    readonly pitch_mm: number | null;
    readonly lot: string;
    readonly fraction: string | null;
  };
  /** The filtrate stands at this mark now; `filter` null where the run has a single one. */
  readonly 'volume-mark': {
    readonly step: string;
    readonly filter: string | null;
    readonly volume_ml: number;
  };
  /** A filtration ended: what passed, and what did not and where it is. Each part becomes a fraction. */
  readonly filtered: {
    readonly step: string;
    readonly filter: string | null;
    readonly passed_ml: number;
    readonly remainder_ml: number;
    readonly remainder: string;
    readonly place: string;
    readonly fate: Fate;
    readonly clogged: boolean;
  };
  readonly fraction: {
    readonly kind: FractionKind;
    readonly volume_ml: number;
    readonly place: string;
    readonly fate: Fate;
    readonly note: string;
  };
  readonly note: { readonly step: string | null; readonly text: string };
  readonly end: object;
  readonly undo: { readonly tap: string };
}
export type TapKind = keyof TapDeeds;
export type TapDeed = { readonly [K in TapKind]: { readonly do: K } & TapDeeds[K] }[TapKind];

const aKey: Rule = text(1, 60);
const whole: Rule = number({ from: 0, to: 10_000, whole: true });
const someMl: Rule = number({ from: 0, to: 1_000_000 });
const amounts: Rule = (value, what) => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return { why: 'not-a-record', message: `${what}: named amounts are needed.` };
  }
  for (const [name, amount] of Object.entries(value)) {
    if (typeof amount !== 'number' || !Number.isFinite(amount)) {
      return {
        why: 'out-of-range',
        message: `${what}, ${name}: a number is needed; given ${String(amount)}.`,
      };
    }
  }
  return null;
};

const DEEDS: { readonly [K in TapKind]: Rules<TapDeeds[K]> } = {
  begin: {},
  start: { step: aKey },
  finish: { step: aKey, quantities: amounts },
  uncover: { step: aKey },
  cover: { step: aKey },
  exposure: { step: aKey, minutes: number({ from: 0, to: 100_000 }), openings: orNull(whole) },
  otherwise: {
    step: orNull(aKey),
    kind: oneOf(DEVIATION_KINDS),
    as_done: orNull(aStep),
    what: text(1, 1000, true),
    why: aNote,
  },
  'lay-filter': {
    name: aName,
    material: text(0, 120),
    pore_um: positive,
    effective_diameter_mm: positive,
    pitch_mm: orNull(positive),
    lot: text(0, 120),
    fraction: orNull(anId),
  },
  'volume-mark': { step: aKey, filter: orNull(anId), volume_ml: someMl },
  filtered: {
    step: aKey,
    filter: orNull(anId),
    passed_ml: someMl,
    remainder_ml: someMl,
    remainder: anId,
    place: text(0, 200),
    fate: oneOf(FATES),
    clogged: (value, what) =>
      typeof value === 'boolean' ? null : { why: 'not-yes-or-no', message: `${what}: yes or no is needed.` },
  },
  fraction: {
    kind: oneOf(FRACTION_KINDS),
    volume_ml: notNegative,
    place: text(0, 200),
    fate: oneOf(FATES),
    note: aNote,
  },
  note: { step: orNull(aKey), text: text(1, 2000, true) },
  end: {},
  undo: { tap: anId },
};

/** The deed with its known fields only, or why it can't be taken as one. */
export function makeTapDeed(given: unknown): Outcome<TapDeed> {
  const kind = (given as { do?: unknown } | null)?.do;
  if (typeof kind !== 'string' || !(kind in DEEDS)) {
    return refused({ why: 'unknown-deed', message: `There is no deed “${String(kind)}” at the bench.` });
  }
  const rules = DEEDS[kind as TapKind] as Rules<Record<string, unknown>>;
  const problem = record(rules)(given, `tap “${kind}”,`);
  if (problem) return refused(problem);
  const fields = Object.keys(rules).map((name) => [name, (given as Record<string, unknown>)[name]]);
  return done({ do: kind, ...Object.fromEntries(fields) } as TapDeed);
}

/** One tap: what, on which run, by whom, and by which device's clock and count. */
export interface Tap {
  /** Given by the device; whatever arrives under a known id was kept already. */
  readonly id: TapId;
  readonly run: RunId;
  readonly device: string;
  /** Counts up on its device. */
  readonly number: number;
  readonly deed: TapDeed;
  /** Why it changed nothing; it is kept as typed all the same. */
  readonly refusal: Refusal | null;
  readonly by: PersonId;
  /** By the device's clock. */
  readonly at: Instant;
  readonly receivedAt: Instant;
}

export const makeTap = maker<Tap>('tap', {
  id: anId,
  run: anId,
  device: text(1, 60),
  number: number({ from: 1, whole: true }),
  deed: (value, what) =>
    typeof value === 'object' && value !== null
      ? null
      : { why: 'no-deed', message: `${what}: a deed is needed.` },
  refusal: () => null,
  by: anId,
  at: anInstant,
  receivedAt: anInstant,
});
