/** A second opinion from outside: a reader's cards of a round to be sent, and the answers that come back. */
import {
  type BlindRound,
  type KeyCard,
  latestReadings,
  makeRoundEvent,
  progressOf,
  type Showing,
  showingsFor,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';
import { isScorer, readCards, roundWithKey } from './score-round.ts';

export interface PacketContents {
  readonly round: BlindRound;
  readonly readerName: string;
  readonly studyName: string;
  readonly invented: boolean;
  /** In this reader's own order. */
  readonly cards: readonly (Showing & { readonly card: KeyCard })[];
}

/** What one reader of a round is to see. Only rounds of pieces can be sent, and only while the reader has not locked. */
export const packetFor = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly round: string; readonly reader: string },
): Promise<Outcome<PacketContents>> =>
  records.look(async (look) => {
    const at = await roundWithKey(look, wish.round);
    if (!at.ok) return at;
    const { round, state, readings } = at.value;
    const reader = await known(look.people.get(asId(wish.reader)), 'person', wish.reader);
    if (!reader.ok) return reader;
    if (!isScorer(round, wish.reader)) {
      return refused({
        why: 'not-a-scorer',
        message: `${reader.value.name} does not score in round “${round.name}”: seal a round with them as a scorer.`,
      });
    }
    if (round.what !== 'pieces') {
      return refused({
        why: 'only-pieces',
        message: `Round “${round.name}” is of fields, on which places are clicked; only a round of pieces can be sent.`,
      });
    }
    const showings = showingsFor(round, asId(wish.reader), state, latestReadings(readings));
    if (state.lockedBy.has(asId(wish.reader)) || showings.length === 0) {
      return refused({
        why: 'nothing-to-send',
        message: `There is nothing for ${reader.value.name} to read in round “${round.name}” now.`,
      });
    }
    const study = await look.studies.get(round.study);
    return done({
      round,
      readerName: reader.value.name,
      studyName: study?.name ?? '',
      invented: study?.invented ?? false,
      cards: showings.map((showing) => ({
        ...showing,
        card: round.key.find(({ code }) => code === showing.code)!,
      })),
    });
  });

export interface TakenAnswers {
  readonly round: string;
  readonly reader: string;
  readonly answers: number;
  /** False when pictures are still unanswered: more may come. */
  readonly locked: boolean;
}

/** Takes answers in as the reader's own readings; when all are there they are locked, with the name of who brought them. */
export async function takeAnswers(
  tools: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: {
    readonly round: string;
    readonly reader: string;
    readonly keyHash: string;
    readonly answers: readonly {
      readonly code: string;
      readonly pass: 1 | 2;
      readonly called: NonNullable<Parameters<typeof readCards>[1]['readings'][number]['called']>;
      readonly guess: Parameters<typeof readCards>[1]['readings'][number]['guess'];
    }[];
    readonly by: string;
  },
): Promise<Outcome<TakenAnswers>> {
  const { records, clock, names } = tools;
  const about = await records.look(async (look) => {
    const at = await roundWithKey(look, wish.round);
    if (!at.ok) return at;
    if (at.value.round.keyHash !== wish.keyHash) {
      return refused({
        why: 'another-key',
        message: `These answers belong to another key than that of round “${at.value.round.name}”; look which packet was answered.`,
      });
    }
    const reader = await known(look.people.get(asId(wish.reader)), 'person', wish.reader);
    const by = await known(look.people.get(asId(wish.by)), 'person', wish.by);
    if (!reader.ok) return reader;
    return by.ok ? done({ round: at.value.round, reader: reader.value, by: by.value }) : by;
  });
  if (!about.ok) return about;
  const { round, reader, by } = about.value;
  const read = await readCards(tools, {
    round: round.id,
    by: wish.reader,
    readings: wish.answers.map((answer) => ({ ...answer, points: null })),
  });
  if (!read.ok) return read;
  return records.change(async (desk) => {
    const at = await roundWithKey(desk, round.id);
    if (!at.ok) return at;
    const progress = progressOf(round, reader.id, at.value.state, latestReadings(at.value.readings));
    const all = progress.of > 0 && progress.done >= progress.of;
    if (all) {
      const lock = makeRoundEvent({
        round: round.id,
        deed: 'lock',
        says: `${progress.of} readings came back in a packet, brought in by ${by.name}, and were locked`,
        by: reader.id,
        id: names.next(),
        at: clock.now(),
      });
      if (!lock.ok) return lock;
      await desk.roundEvents.add(lock.value);
    }
    return done({ round: round.name, reader: reader.name, answers: wish.answers.length, locked: all });
  });
}
