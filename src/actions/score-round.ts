/** Scoring a sealed round: what a scorer may see, their readings, predictions and locks. */
import {
  type AsGiven,
  type BlindRound,
  type FoundPoint,
  type KeyCard,
  keyIsHere,
  latestReadings,
  makeReading,
  makeRoundEvent,
  type Progress,
  progressOf,
  type Reading,
  type RoundEvent,
  type RoundOf,
  type RoundState,
  showingsFor,
  stateOfRound,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;

export interface RoundAtHand {
  readonly round: BlindRound;
  readonly events: readonly RoundEvent[];
  readonly readings: readonly Reading[];
  readonly state: RoundState;
}

export async function roundAtHand(look: Look, id: string): Promise<Outcome<RoundAtHand>> {
  const round = await known(look.rounds.get(asId(id)), 'round', id);
  if (!round.ok) return round;
  const events = await look.roundEvents.ofRound(round.value.id);
  const readings = await look.readings.ofRound(round.value.id);
  return done({ round: round.value, events, readings, state: stateOfRound(events) });
}

/** A round that can still be scored and opened here: its key did not stay in another laboratory. */
export async function roundWithKey(look: Look, id: string): Promise<Outcome<RoundAtHand>> {
  const at = await roundAtHand(look, id);
  if (!at.ok || keyIsHere(at.value.round)) return at;
  return refused({
    why: 'key-elsewhere',
    message: `Round “${at.value.round.name}” came with a packed study while it was sealed: its key stayed in the laboratory that drew it, so it can be neither scored nor opened here. Open it there and pack the study again.`,
  });
}

export const isScorer = (round: BlindRound, person: string): boolean =>
  round.scorers.some((scorer) => scorer === person) || round.third === person;

const notAScorer = (round: BlindRound) =>
  refused({
    why: 'not-a-scorer',
    message: `You do not score in round “${round.name}”: say who is working, or seal a round of your own.`,
  });

/** What a scorer is shown: a code, and nothing of where it comes from. */
export interface ShownCard {
  readonly round: string;
  readonly what: RoundOf;
  readonly code: string;
  readonly pass: 1 | 2;
  readonly guess: boolean;
  readonly widthUm: number | null;
  readonly place: number;
  readonly of: number;
  /** What this scorer said of it before, when they come back. */
  readonly before: Pick<Reading, 'called' | 'points' | 'guess'> | null;
}

export interface Scoring {
  readonly progress: Progress;
  /** Null when all is scored, or when there is nothing to score yet. */
  readonly card: ShownCard | null;
}

/** The card at a place of a scorer's own order (from 1); without a place the first that is not scored yet. */
export const cardToScore = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly round: string; readonly person: string; readonly place: number | null },
): Promise<Outcome<Scoring>> =>
  records.look(async (look) => {
    const at = await roundWithKey(look, wish.round);
    if (!at.ok) return at;
    const { round, state } = at.value;
    if (!isScorer(round, wish.person)) return notAScorer(round);
    const person = asId<'person'>(wish.person);
    const latest = latestReadings(at.value.readings);
    const showings = showingsFor(round, person, state, latest);
    const progress = progressOf(round, person, state, latest);
    const next = showings.findIndex(({ code, pass }) => latest.of(code, person, pass) === null);
    const place = wish.place === null ? next : wish.place - 1;
    const showing = showings[place];
    if (!showing || state.lockedBy.has(person)) return done({ progress, card: null });
    const said = latest.of(showing.code, person, showing.pass);
    const card = round.key.find((one) => one.code === showing.code)!;
    return done({
      progress,
      card: {
        round: round.id,
        what: round.what,
        ...showing,
        widthUm: card.widthUm,
        place: place + 1,
        of: showings.length,
        before: said && { called: said.called, points: said.points, guess: said.guess },
      },
    });
  });

/** The card behind a code, for the hand that cuts its picture; only for those who score, or after the opening. */
export const cardBehind = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly round: string; readonly code: string; readonly person: string },
): Promise<Outcome<KeyCard>> =>
  records.look(async (look) => {
    const at = await roundAtHand(look, wish.round);
    if (!at.ok) return at;
    const { round, state } = at.value;
    if (!state.opened && !isScorer(round, wish.person)) return notAScorer(round);
    const card = round.key.find((one) => one.code === wish.code);
    return card
      ? done(card)
      : refused({ why: 'no-such-card', message: `Round “${round.name}” has no picture “${wish.code}”.` });
  });

export interface ReadingWish {
  readonly round: string;
  readonly code: string;
  readonly pass: number;
  readonly called: string | null;
  readonly points: readonly AsGiven<FoundPoint>[] | null;
  readonly guess: string | null;
  readonly by: string;
}

/** Somebody's reading of one picture; said again before the lock, the later word stands and the first stays on record. */
export const readCard = async (bench: Bench, wish: ReadingWish): Promise<Outcome<Reading>> => {
  const { round, by, ...reading } = wish;
  const made = await readCards(bench, { round, by, readings: [reading] });
  return made.ok ? done(made.value[0]!) : made;
};

/** Several readings of one person at once, such as those of a scoring sheet; all or none. */
export const readCards = (
  { records, clock, names }: Bench,
  wish: {
    readonly round: string;
    readonly by: string;
    readonly readings: readonly Omit<ReadingWish, 'round' | 'by'>[];
  },
): Promise<Outcome<readonly Reading[]>> =>
  records.change(async (desk) => {
    const at = await roundWithKey(desk, wish.round);
    if (!at.ok) return at;
    const { round, state } = at.value;
    if (!isScorer(round, wish.by)) return notAScorer(round);
    if (state.opened || state.lockedBy.has(asId(wish.by))) {
      return refused({
        why: 'locked',
        message: `Your readings of round “${round.name}” are locked, so none can be added or changed; seal another round to score again.`,
      });
    }
    const showings = showingsFor(round, asId(wish.by), state, latestReadings(at.value.readings));
    const out: Reading[] = [];
    for (const given of wish.readings) {
      const showing = showings.find(({ code, pass }) => code === given.code && pass === given.pass);
      const amiss = showing ? amissWith(round, showing.guess, given) : notShown(round, given.code);
      if (amiss) return amiss;
      const made = makeReading({
        ...given,
        guess: showing!.guess ? given.guess : null,
        round: round.id,
        by: wish.by,
        id: names.next(),
        at: clock.now(),
      });
      if (!made.ok) return made;
      await desk.readings.add(made.value);
      out.push(made.value);
    }
    return done(out);
  });

const notShown = (round: BlindRound, code: string) =>
  refused({
    why: 'no-such-card',
    message: `Round “${round.name}” shows you no picture “${code}”; read the next one.`,
  });

function amissWith(round: BlindRound, guess: boolean, given: Omit<ReadingWish, 'round' | 'by'>) {
  if ((round.what === 'fields') !== (given.points !== null)) {
    const needed = round.what === 'fields' ? 'the pieces found on it' : 'what the piece is';
    return refused({ why: 'not-an-answer', message: `Picture “${given.code}”: ${needed} must be said.` });
  }
  if (guess && given.guess === null) {
    return refused({
      why: 'guess-missing',
      message: `Picture “${given.code}”: guess also whether it is from a specimen run or from a control; it shows whether the blind holds.`,
    });
  }
  return null;
}

/** Says beforehand what the opening will show; needed before a key is opened. */
export const predictRound = (
  { records, clock, names }: Bench,
  wish: { readonly round: string; readonly says: string; readonly by: string },
): Promise<Outcome<RoundEvent>> =>
  records.change(async (desk) => {
    const at = await roundWithKey(desk, wish.round);
    if (!at.ok) return at;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const { round, state } = at.value;
    if (state.opened) {
      return refused({
        why: 'opened-already',
        message: `Round “${round.name}” was opened on ${state.opened.at.slice(0, 10)}; a prediction can only come before.`,
      });
    }
    if (wish.says.trim() === '') {
      return refused({
        why: 'empty',
        message:
          'Write the prediction in a few words: more, as many or fewer than in the controls, and about how many.',
      });
    }
    const made = makeRoundEvent({ ...wish, deed: 'predict', id: names.next(), at: clock.now() });
    if (made.ok) await desk.roundEvents.add(made.value);
    return made;
  });

/** Locks one scorer's readings; all must be there. */
export const lockReadings = (
  { records, clock, names }: Bench,
  wish: { readonly round: string; readonly by: string },
): Promise<Outcome<RoundEvent>> =>
  records.change(async (desk) => {
    const at = await roundWithKey(desk, wish.round);
    if (!at.ok) return at;
    const { round, state } = at.value;
    if (!isScorer(round, wish.by)) return notAScorer(round);
    const progress = progressOf(round, asId(wish.by), state, latestReadings(at.value.readings));
    if (progress.locked) {
      return refused({
        why: 'locked',
        message: `Your readings of round “${round.name}” are locked already.`,
      });
    }
    if (progress.of === 0 || progress.done < progress.of) {
      return refused({
        why: 'not-all-read',
        message:
          progress.of === 0
            ? `Round “${round.name}” has nothing for you yet: both scorers lock first, then you see what they disagree on.`
            : `Round “${round.name}”: ${progress.of - progress.done} of your ${progress.of} pictures are not read yet; read them, then lock.`,
      });
    }
    const made = makeRoundEvent({
      round: round.id,
      deed: 'lock',
      says: `${progress.of} readings locked`,
      by: wish.by,
      id: names.next(),
      at: clock.now(),
    });
    if (made.ok) await desk.roundEvents.add(made.value);
    return made;
  });
