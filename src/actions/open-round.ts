/** Opening a key, once, and taking what a round found over as marks. */
import {
  type DrillAnswer,
  disputed,
  latestReadings,
  makeRoundEvent,
  type ParticleId,
  type PhotoId,
  progressOf,
  type RoundEvent,
  resolvedCards,
  sealOf,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import { BY_EYE } from './known-pieces.ts';
import { markParticles } from './mark-particles.ts';
import type { Desk, Tools } from './ports.ts';
import { type RoundAtHand, roundWithKey } from './score-round.ts';

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;

async function mayOpen(
  desk: Desk,
  { round, state, readings }: RoundAtHand,
  withoutThird: boolean,
): Promise<Outcome<null>> {
  if (state.opened) {
    const by = await desk.people.get(state.opened.by);
    return refused({
      why: 'opened-already',
      message: `Round “${round.name}” was opened by ${by?.name ?? 'somebody'} on ${state.opened.at.slice(0, 16).replace('T', ' at ')}; a key is opened once, and what it held is on the round’s page.`,
    });
  }
  const open = round.scorers.filter((scorer) => !state.lockedBy.has(scorer));
  if (open.length > 0) {
    const names = await Promise.all(open.map(async (id) => (await desk.people.get(id))?.name ?? 'somebody'));
    return refused({
      why: 'not-locked',
      message: `Round “${round.name}” stays sealed: ${names.join(' and ')} ${names.length === 1 ? 'has' : 'have'} not locked the readings yet.`,
    });
  }
  if (state.predictions.length === 0) {
    return refused({
      why: 'no-prediction',
      message: `Round “${round.name}” stays sealed: write down first what you expect, so that nobody expected it afterwards.`,
    });
  }
  const latest = latestReadings(readings);
  const open3 =
    round.third !== null && !state.lockedBy.has(round.third) && disputed(round, latest).length > 0;
  if (open3 && !withoutThird) {
    const third = await desk.people.get(round.third!);
    const { of, done: read } = progressOf(round, round.third!, state, latest);
    return refused({
      why: 'third-missing',
      message: `Round “${round.name}”: ${third?.name ?? 'the third scorer'} has still to read ${of - read} pictures on which the two disagree; wait, or open without, and they stay undecided.`,
    });
  }
  return done(null);
}

/**
 * Opens the key: an appended record, possible once, after all locks and a prediction. Known pieces that were slipped in become
 * answers of a drill that nobody knew of. A key that was changed since it was sealed is refused.
 */
export const openRound = (
  { records, clock, names }: Bench,
  wish: { readonly round: string; readonly withoutThird: boolean; readonly by: string },
): Promise<Outcome<RoundEvent>> =>
  records.change(async (desk) => {
    const at = await roundWithKey(desk, wish.round);
    if (!at.ok) return at;
    const { round } = at.value;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const may = await mayOpen(desk, at.value, wish.withoutThird);
    if (!may.ok) return may;
    if (sealOf(round) !== round.keyHash) {
      return refused({
        why: 'seal-broken',
        message: `Round “${round.name}”: the key does not match the hash that was shown when it was sealed, so the round proves nothing; restore the laboratory from a copy.`,
      });
    }
    const latest = latestReadings(at.value.readings);
    const slipped = round.key.flatMap((card) =>
      card.piece === null || round.knownSet === null
        ? []
        : round.scorers.flatMap((by): DrillAnswer[] => {
            const reading = latest.of(card.code, by);
            if (!reading?.called) return [];
            return [
              {
                id: names.next(),
                study: round.study,
                set: round.knownSet!,
                piece: card.piece!,
                test: BY_EYE,
                called: reading.called,
                announced: false,
                by,
                at: reading.at,
              },
            ];
          }),
    );
    const made = makeRoundEvent({
      round: round.id,
      deed: 'open',
      says: `key of ${round.key.length} pictures, SHA-256 ${round.keyHash}`,
      by: wish.by,
      id: names.next(),
      at: clock.now(),
    });
    if (!made.ok) return made;
    await desk.drillAnswers.add(slipped);
    await desk.roundEvents.add(made.value);
    return made;
  });

export interface TakenOver {
  readonly event: RoundEvent;
  readonly kept: number;
  readonly dropped: number;
  readonly undecided: number;
  /** Pieces of photographs that were searched anew since the round was sealed: their marks could not be made. */
  readonly gone: number;
}

/** Writes what an opened round found as marks on its pieces; they can be undone like all marks. Undecided ones get none. */
export async function takeRoundOver(
  bench: Bench,
  wish: { readonly round: string; readonly by: string },
): Promise<Outcome<TakenOver>> {
  const { records, clock, names } = bench;
  const at = await records.look((look) => roundWithKey(look, wish.round));
  if (!at.ok) return at;
  const { round, state, readings } = at.value;
  if (!state.opened) {
    return refused({ why: 'sealed', message: `Round “${round.name}” is sealed; open it first.` });
  }
  if (state.takenOver) {
    return refused({
      why: 'taken-over',
      message: `Round “${round.name}” was taken over as marks on ${state.takenOver.at.slice(0, 10)}; change single marks on the photographs.`,
    });
  }
  if (round.what === 'fields') {
    return refused({
      why: 'fields-decide-nothing',
      message: `Round “${round.name}” measured how many pieces are found; it decides on no piece. Its agreement is on its page.`,
    });
  }
  const decided = resolvedCards(round, latestReadings(readings)).filter(({ card }) => card.side !== 'known');
  const marks = new Map<PhotoId, { keep: ParticleId[]; drop: ParticleId[] }>();
  for (const { card, call } of decided) {
    if (call === 'undecided' || card.particle === null) continue;
    const of = marks.get(card.photo) ?? { keep: [], drop: [] };
    marks.set(card.photo, of);
    (call === 'plastic' ? of.keep : of.drop).push(card.particle);
  }
  const told = {
    kept: 0,
    dropped: 0,
    gone: 0,
    undecided: decided.filter((one) => one.call === 'undecided').length,
  };
  for (const [photo, { keep, drop }] of marks) {
    for (const [kind, particles] of [
      ['keep', keep],
      ['drop', drop],
    ] as const) {
      if (particles.length === 0) continue;
      const marked = await markParticles(bench, { photo, particles, decision: { kind }, by: wish.by });
      if (marked.ok) told[kind === 'keep' ? 'kept' : 'dropped'] += particles.length;
      else if (marked.refusal.why === 'no-such-particle' || marked.refusal.why === 'replaced')
        told.gone += particles.length;
      else return marked;
    }
  }
  return records.change(async (desk) => {
    const made = makeRoundEvent({
      round: round.id,
      deed: 'take-over',
      says: `${told.kept} kept, ${told.dropped} dropped, ${told.undecided} undecided, ${told.gone} no longer there`,
      by: wish.by,
      id: names.next(),
      at: clock.now(),
    });
    if (!made.ok) return made;
    await desk.roundEvents.add(made.value);
    return done({ event: made.value, ...told });
  });
}
