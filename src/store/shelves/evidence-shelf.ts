import { eq } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { BlindRound } from '../../study/index.ts';
import * as t from '../schema-evidence.ts';
import { type Database, first } from './database.ts';

/** A row without the number that only keeps its order. */
const plain = <R extends { readonly turn: unknown }>({ turn: _, ...row }: R): Omit<R, 'turn'> => row;

/** What particles are, how often people err, and scoring without knowing. All of it is only ever added. */
export const evidenceShelf = (
  db: Database,
): Pick<
  Desk,
  | 'testPictures'
  | 'benchAnswers'
  | 'knownSets'
  | 'drillAnswers'
  | 'evidenceUndos'
  | 'confirmations'
  | 'rounds'
  | 'readings'
  | 'roundEvents'
> => ({
  testPictures: {
    add: async (record) => void (await db.insert(t.testPicture).values(record)),
    get: async (id) => {
      const row = first(await db.select().from(t.testPicture).where(eq(t.testPicture.id, id)));
      return row && plain(row);
    },
    hashes: async () =>
      (await db.select({ sha256: t.testPicture.sha256 }).from(t.testPicture)).map((row) => row.sha256),
  },
  benchAnswers: {
    add: async (record) => void (await db.insert(t.benchAnswer).values(record)),
    get: async (id) => {
      const row = first(await db.select().from(t.benchAnswer).where(eq(t.benchAnswer.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (
        await db
          .select()
          .from(t.benchAnswer)
          .where(eq(t.benchAnswer.study, study))
          .orderBy(t.benchAnswer.turn)
      ).map(plain),
    ofParticle: async (particle) =>
      (
        await db
          .select()
          .from(t.benchAnswer)
          .where(eq(t.benchAnswer.particle, particle))
          .orderBy(t.benchAnswer.turn)
      ).map(plain),
  },
  knownSets: {
    add: async (record) =>
      void (await db.insert(t.knownSet).values({ ...record, pieces: [...record.pieces] })),
    get: async (id) => {
      const row = first(await db.select().from(t.knownSet).where(eq(t.knownSet.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (await db.select().from(t.knownSet).where(eq(t.knownSet.study, study)).orderBy(t.knownSet.turn)).map(
        plain,
      ),
  },
  drillAnswers: {
    add: async (records) => {
      if (records.length > 0) await db.insert(t.drillAnswer).values([...records]);
    },
    get: async (id) => {
      const row = first(await db.select().from(t.drillAnswer).where(eq(t.drillAnswer.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (
        await db
          .select()
          .from(t.drillAnswer)
          .where(eq(t.drillAnswer.study, study))
          .orderBy(t.drillAnswer.turn)
      ).map(plain),
  },
  evidenceUndos: {
    add: async (record) => void (await db.insert(t.evidenceUndo).values(record)),
    ofStudy: async (study) =>
      (
        await db
          .select()
          .from(t.evidenceUndo)
          .where(eq(t.evidenceUndo.study, study))
          .orderBy(t.evidenceUndo.turn)
      ).map(plain),
  },
  confirmations: {
    add: async (record) =>
      void (await db.insert(t.confirmation).values({ ...record, strata: [...record.strata] })),
    get: async (id) => {
      const row = first(await db.select().from(t.confirmation).where(eq(t.confirmation.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (
        await db
          .select()
          .from(t.confirmation)
          .where(eq(t.confirmation.study, study))
          .orderBy(t.confirmation.turn)
      ).map(plain),
  },
  rounds: {
    add: async (record: BlindRound) =>
      void (await db.insert(t.blindRound).values({ ...record, scorers: [...record.scorers] })),
    get: async (id) => {
      const row = first(await db.select().from(t.blindRound).where(eq(t.blindRound.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (
        await db.select().from(t.blindRound).where(eq(t.blindRound.study, study)).orderBy(t.blindRound.turn)
      ).map(plain),
  },
  readings: {
    add: async (record) => void (await db.insert(t.blindReading).values(record)),
    ofRound: async (round) =>
      (
        await db
          .select()
          .from(t.blindReading)
          .where(eq(t.blindReading.round, round))
          .orderBy(t.blindReading.turn)
      ).map(plain),
  },
  roundEvents: {
    add: async (record) => void (await db.insert(t.roundEvent).values(record)),
    ofRound: async (round) =>
      (
        await db.select().from(t.roundEvent).where(eq(t.roundEvent.round, round)).orderBy(t.roundEvent.turn)
      ).map(plain),
  },
});
