import { and, desc, eq, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { PhotoPlace, Tap } from '../../study/index.ts';
import * as base from '../schema.ts';
import * as t from '../schema-bench.ts';
import { photoNow } from '../schema-moves.ts';
import { type Database, first } from './database.ts';

const asTap = ({ turn: _, ...row }: typeof t.benchTap.$inferSelect): Tap => row;

const asPlace = (row: typeof t.photoPlace.$inferSelect): PhotoPlace => ({
  photo: row.photo,
  square: row.square === null ? null : [row.square[0]!, row.square[1]!],
  at: row.at,
  by: row.by,
});

/** The filter that a photograph lay on when a place of it was said. */
const filterThen = sql`coalesce(
  (select m.filter from photo_move m
    where m.photo = ${t.photoPlace.photo} and m.at <= ${t.photoPlace.at} order by m.turn desc limit 1),
  (select p.filter from photo p where p.id = ${t.photoPlace.photo}))`;

/** What is written down at the bench. All of it is only ever added. */
export const benchShelf = (
  db: Database,
): Pick<Desk, 'taps' | 'withdrawals' | 'runOrders' | 'photoPlaces' | 'setupPhotos'> => ({
  taps: {
    add: async (tap) => void (await db.insert(t.benchTap).values(tap)),
    get: async (id) => {
      const row = first(await db.select().from(t.benchTap).where(eq(t.benchTap.id, id)));
      return row && asTap(row);
    },
    byNumber: async (device, number) => {
      const same = and(eq(t.benchTap.device, device), eq(t.benchTap.number, number));
      const row = first(await db.select().from(t.benchTap).where(same));
      return row && asTap(row);
    },
    ofRun: async (run) =>
      (await db.select().from(t.benchTap).where(eq(t.benchTap.run, run)).orderBy(t.benchTap.turn)).map(asTap),
    ofStudy: async (study) => {
      const rows = await db
        .select({ tap: t.benchTap })
        .from(t.benchTap)
        .innerJoin(base.run, and(eq(base.run.id, t.benchTap.run), eq(base.run.study, study)))
        .orderBy(t.benchTap.turn);
      return rows.map((row) => asTap(row.tap));
    },
  },
  withdrawals: {
    add: async (record) => void (await db.insert(t.withdrawal).values(record)),
    of: async (subject) =>
      first(await db.select().from(t.withdrawal).where(eq(t.withdrawal.subject, subject))),
    ofStudy: (study) =>
      db
        .select()
        .from(t.withdrawal)
        .where(eq(t.withdrawal.study, study))
        .orderBy(t.withdrawal.at, t.withdrawal.id),
  },
  runOrders: {
    add: async (record) => void (await db.insert(t.runOrder).values({ ...record, runs: [...record.runs] })),
    newest: async (study) =>
      first(
        await db
          .select()
          .from(t.runOrder)
          .where(eq(t.runOrder.study, study))
          .orderBy(desc(t.runOrder.at), desc(t.runOrder.id))
          .limit(1),
      ),
  },
  photoPlaces: {
    add: async (record) =>
      void (await db
        .insert(t.photoPlace)
        .values({ ...record, square: record.square === null ? null : [...record.square] })),
    ofStudy: async (study) => {
      const rows = await db
        .selectDistinctOn([t.photoPlace.photo], { place: t.photoPlace })
        .from(t.photoPlace)
        .innerJoin(photoNow, eq(photoNow.id, t.photoPlace.photo))
        .innerJoin(base.filter, eq(base.filter.id, photoNow.filter))
        .innerJoin(base.run, and(eq(base.run.id, base.filter.run), eq(base.run.study, study)))
        // A square of the filter that it lay on before says nothing of the one that it lies on now.
        .where(eq(photoNow.filter, filterThen))
        .orderBy(t.photoPlace.photo, desc(t.photoPlace.turn));
      return rows.map((row) => asPlace(row.place));
    },
  },
  setupPhotos: {
    add: async (record) => void (await db.insert(t.setupPhoto).values(record)),
    get: async (id) => first(await db.select().from(t.setupPhoto).where(eq(t.setupPhoto.id, id))),
    ofRun: (run) =>
      db
        .select()
        .from(t.setupPhoto)
        .where(eq(t.setupPhoto.run, run))
        .orderBy(t.setupPhoto.at, t.setupPhoto.id),
    hashes: async () =>
      (await db.select({ sha256: t.setupPhoto.sha256 }).from(t.setupPhoto)).map((row) => row.sha256),
  },
});

/** A record that was taken back stands on no list. */
export const standing = (subject: unknown) =>
  sql`not exists (select 1 from withdrawal w where w.subject = ${subject})`;
