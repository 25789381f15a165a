/**
 * How a record is accepted: each field has a rule, each rule knows what is allowed and says so in one sentence.
 * `AsGiven<T>` is a record as somebody typed it; a maker turns it into the record or into a refusal.
 */
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

declare const kind: unique symbol;
/** Identity of one record; a UUID. The kind keeps a run's id from being handed in as a filter's. */
export type Id<K extends string> = string & { readonly [kind]: K };
/** A moment, as ISO 8601 in UTC with milliseconds: "2026-03-01T09:00:00.000Z". */
export type Instant = string & { readonly [kind]: 'instant' };
/** A calendar day, "2026-03-01". */
export type Day = string & { readonly [kind]: 'day' };

/** The same shape with nothing promised: any number, any text. */
export type AsGiven<T> = T extends string
  ? string
  : T extends number
    ? number
    : T extends boolean | null | undefined
      ? T
      : T extends readonly (infer E)[]
        ? readonly AsGiven<E>[]
        : T extends object
          ? { readonly [F in keyof T]: AsGiven<T[F]> }
          : T;

/** Null when the value may stand; else what is wrong with it. `what` names the field in the sentence. */
export type Rule = (value: unknown, what: string) => Refusal | null;
/** One rule for every field of T: a field without a rule does not compile. */
export type Rules<T> = { readonly [F in keyof T]-?: Rule };

const shown = (value: unknown): string => {
  const text = typeof value === 'string' ? `“${value.slice(0, 60)}”` : String(value);
  return value === undefined || value === null ? 'nothing' : text;
};
const wrong = (why: string, what: string, allowed: string, value: unknown): Refusal => ({
  why,
  message: `${what}: ${allowed}; given ${shown(value)}.`,
});

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-9a-f][0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;

export const isIdText = (text: string): boolean => UUID.test(text);

export const anId: Rule = (value, what) =>
  typeof value === 'string' && UUID.test(value) ? null : wrong('not-an-id', what, 'a UUID is needed', value);

export const anInstant: Rule = (value, what) =>
  typeof value === 'string' && INSTANT.test(value) && !Number.isNaN(Date.parse(value))
    ? null
    : wrong('not-a-moment', what, 'a moment such as 2026-03-01T09:00:00.000Z is needed', value);

export const aDay: Rule = (value, what) =>
  typeof value === 'string' &&
  /^\d{4}-\d\d-\d\d$/.test(value) &&
  new Date(`${value}T00:00:00Z`).toISOString().slice(0, 10) === value
    ? null
    : wrong('not-a-day', what, 'a day such as 2026-03-01 is needed', value);

/** Text without control characters (line breaks only where `lines`), trimmed length within bounds. */
export const text =
  (least: number, most: number, lines = false): Rule =>
  (value, what) => {
    if (typeof value !== 'string') return wrong('not-text', what, 'text is needed', value);
    const length = value.trim().length;
    if (length < least) return wrong('empty', what, 'it needs a few words', value);
    if (length > most) {
      return { why: 'too-long', message: `${what}: at most ${most} characters; given ${length}.` };
    }
    // Control characters have no place in a name and break lists, labels and CSV.
    const bad = lines ? /[^\P{Cc}\n\t\r]/u : /\p{Cc}/u;
    return bad.test(value)
      ? { why: 'control-character', message: `${what}: it holds a control character; please type it afresh.` }
      : null;
  };
export const aName: Rule = text(1, 120);
export const aNote: Rule = text(0, 4000, true);

export interface Span {
  readonly from?: number;
  readonly above?: number;
  readonly to?: number;
  readonly whole?: boolean;
}

const spanned = ({ from, above, to, whole }: Span): string => {
  const parts = [whole ? 'a whole number' : 'a number'];
  if (above !== undefined) parts.push(`above ${above}`);
  if (from !== undefined) parts.push(`from ${from}`);
  if (to !== undefined) parts.push(`to ${to}`);
  return `${parts.join(' ')} is needed`;
};

export const number =
  (span: Span): Rule =>
  (value, what) => {
    const fits =
      typeof value === 'number' &&
      Number.isFinite(value) &&
      (span.from === undefined || value >= span.from) &&
      (span.above === undefined || value > span.above) &&
      (span.to === undefined || value <= span.to) &&
      (!span.whole || Number.isSafeInteger(value));
    return fits ? null : wrong('out-of-range', what, spanned(span), value);
  };
export const aCount: Rule = number({ from: 0, whole: true });
export const aFraction: Rule = number({ from: 0, to: 1 });
export const positive: Rule = number({ above: 0 });
export const notNegative: Rule = number({ from: 0 });

export const yesOrNo: Rule = (value, what) =>
  typeof value === 'boolean' ? null : wrong('not-yes-or-no', what, 'yes or no is needed', value);

export const oneOf =
  (allowed: readonly string[]): Rule =>
  (value, what) =>
    typeof value === 'string' && allowed.includes(value)
      ? null
      : wrong('not-in-list', what, `one of ${allowed.join(', ')} is needed`, value);

export const orNull =
  (rule: Rule): Rule =>
  (value, what) =>
    value === null ? null : rule(value, what);

export const listOf =
  (rule: Rule, most = 10_000): Rule =>
  (value, what) => {
    if (!Array.isArray(value)) return wrong('not-a-list', what, 'a list is needed', value);
    if (value.length > most) {
      return { why: 'too-many', message: `${what}: at most ${most} entries; given ${value.length}.` };
    }
    for (const [at, entry] of value.entries()) {
      const problem = rule(entry, `${what}, entry ${at + 1}`);
      if (problem) return problem;
    }
    return null;
  };

export const record =
  <T>(rules: Rules<T>): Rule =>
  (value, what) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) {
      return wrong('not-a-record', what, 'a record is needed', value);
    }
    for (const field of Object.keys(rules) as (keyof T & string)[]) {
      const problem = rules[field]((value as Record<string, unknown>)[field], `${what} ${field}`);
      if (problem) return problem;
    }
    return null;
  };

/** Rules that no field can state alone (a range upside down, a control with a portion). */
export type Sense<T> = (accepted: T) => Refusal | null;

/** A maker: known fields only, each by its rule, then the sense of the whole. */
export const maker =
  <T>(what: string, rules: Rules<T>, sense: Sense<T> = () => null) =>
  (given: AsGiven<T>): Outcome<T> => {
    const kept: Record<string, unknown> = {};
    for (const field of Object.keys(rules) as (keyof T & string)[]) {
      // Left out and null are one thing: nobody has said.
      const value = (given as Record<string, unknown>)[field] ?? null;
      const problem = rules[field](value, `${what}, ${field}`);
      if (problem) return refused(problem);
      kept[field] = typeof value === 'string' ? value.trim() : value;
    }
    const problem = sense(kept as T);
    return problem ? refused(problem) : done(kept as T);
  };
