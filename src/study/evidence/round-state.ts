/** Where a blinded round stands: who has scored what, what is disputed, who still has to. */
import { orderFor } from '../../science/evidence/index.ts';
import type { BlindRound, KeyCard, Reading, RoundEvent } from '../records/blind-round.ts';
import type { Call } from '../records/known-set.ts';
import type { PersonId } from '../records/laboratory.ts';
import { sha256 } from './sha256.ts';

export interface RoundState {
  readonly lockedBy: ReadonlySet<PersonId>;
  readonly predictions: readonly RoundEvent[];
  readonly opened: RoundEvent | null;
  readonly takenOver: RoundEvent | null;
}

export const stateOfRound = (events: readonly RoundEvent[]): RoundState => ({
  lockedBy: new Set(events.filter((event) => event.deed === 'lock').map((event) => event.by)),
  predictions: events.filter((event) => event.deed === 'predict'),
  opened: events.find((event) => event.deed === 'open') ?? null,
  takenOver: events.find((event) => event.deed === 'take-over') ?? null,
});

/** The seal: a hash over the whole key with the round's own id and seed, so that no other key has it. */
export const sealOf = (round: Pick<BlindRound, 'id' | 'seed' | 'key'>): string =>
  sha256(
    JSON.stringify([
      round.id,
      round.seed,
      round.key.map((c) => [
        c.code,
        c.particle,
        c.photo,
        c.centrePx,
        c.widthPx,
        c.widthUm,
        c.side,
        c.piece,
        c.turnDeg,
        c.mirrored,
        c.guess,
        c.again,
      ]),
    ]),
  );

const showing = (code: string, pass: number, by: string): string => `${by} ${code} ${pass}`;

/** The last reading of each showing by each person. */
export interface LatestReadings {
  of(code: string, by: PersonId, pass?: 1 | 2): Reading | null;
}

export function latestReadings(readings: readonly Reading[]): LatestReadings {
  const latest = new Map(readings.map((r) => [showing(r.code, r.pass, r.by), r]));
  return { of: (code, by, pass = 1) => latest.get(showing(code, pass, by)) ?? null };
}

/** Cards on which the two scorers' first calls differ; none on fields, where pieces are matched by place. */
export function disputed(round: BlindRound, readings: LatestReadings): readonly KeyCard[] {
  const [first, second] = round.scorers;
  if (round.what === 'fields' || first === undefined || second === undefined) return [];
  return round.key.filter((card) => {
    const a = readings.of(card.code, first)?.called;
    const b = readings.of(card.code, second)?.called;
    return a !== undefined && b !== undefined && (a !== b || a === 'cannot-tell');
  });
}

export interface Showing {
  readonly code: string;
  readonly pass: 1 | 2;
  readonly guess: boolean;
}

/** All that a person has to look at, in an order of their own; the third only what the two disagree on, once both have locked. */
export function showingsFor(
  round: BlindRound,
  person: PersonId,
  state: RoundState,
  readings: LatestReadings,
): readonly Showing[] {
  const byCode = new Map(round.key.map((card) => [card.code, card]));
  const shown = (cards: readonly Pick<KeyCard, 'code' | 'again'>[]): readonly Showing[] =>
    orderFor(cards, round.seed, person).map(({ code, pass }) => ({
      code,
      pass,
      guess: pass === 1 && byCode.get(code)!.guess,
    }));
  if (round.scorers.includes(person)) return shown(round.key);
  if (round.third !== person || !round.scorers.every((scorer) => state.lockedBy.has(scorer))) return [];
  return shown(disputed(round, readings).map(({ code }) => ({ code, again: false })));
}

export interface Progress {
  readonly person: PersonId;
  readonly done: number;
  readonly of: number;
  readonly locked: boolean;
}

export function progressOf(
  round: BlindRound,
  person: PersonId,
  state: RoundState,
  readings: LatestReadings,
): Progress {
  const showings = showingsFor(round, person, state, readings);
  const done = showings.filter(({ code, pass }) => readings.of(code, person, pass) !== null).length;
  return { person, done, of: showings.length, locked: state.lockedBy.has(person) };
}

export type Resolved = {
  readonly call: Extract<Call, 'plastic' | 'other'> | 'undecided';
  readonly how: 'agreed' | 'alone' | 'third' | 'split';
};

/**
 * What a card is taken for: what both scorers say; what the third says where it sides with one of them; else undecided.
 * Nobody discusses until they agree: first readings stay as they are.
 */
export function resolve(round: BlindRound, card: KeyCard, readings: LatestReadings): Resolved {
  const [first, second] = round.scorers;
  const call = (by: PersonId | null | undefined): Call | null =>
    by ? (readings.of(card.code, by)?.called ?? null) : null;
  const a = call(first);
  const decided = (of: Call | null): Resolved['call'] =>
    of === 'plastic' || of === 'other' ? of : 'undecided';
  if (second === undefined) return { call: decided(a), how: 'alone' };
  const b = call(second);
  if (a === b && decided(a) !== 'undecided') return { call: decided(a), how: 'agreed' };
  const c = decided(call(round.third));
  return c !== 'undecided' && (c === a || c === b)
    ? { call: c, how: 'third' }
    : { call: 'undecided', how: 'split' };
}
