/** How photographs are searched, how they lie together, how small a piece and what false finds they show. The newest of each stands. */
import { and, desc, eq } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as t from '../schema.ts';
import { type Database, first } from './database.ts';

const withoutTurn = <R extends { readonly turn: unknown }>({ turn: _, ...row }: R): Omit<R, 'turn'> => row;
const newest = <R extends { readonly turn: unknown }>(rows: readonly R[]): Omit<R, 'turn'> | null => {
  const row = first(rows);
  return row && withoutTurn(row);
};

export const searchShelves = (
  db: Database,
): Pick<Desk, 'completeness' | 'falseFinds' | 'searchSettings' | 'joinings'> => ({
  completeness: {
    add: async (record) =>
      void (await db.insert(t.completeness).values({ ...record, photos: [...record.photos] })),
    newest: async (study) => {
      const mine = db.select().from(t.completeness).where(eq(t.completeness.study, study));
      return newest(await mine.orderBy(desc(t.completeness.turn)).limit(1));
    },
  },
  falseFinds: {
    add: async (record) =>
      void (await db.insert(t.falseFinds).values({ ...record, photos: [...record.photos] })),
    newest: async (study) => {
      const mine = db.select().from(t.falseFinds).where(eq(t.falseFinds.study, study));
      return newest(await mine.orderBy(desc(t.falseFinds.turn)).limit(1));
    },
  },
  searchSettings: {
    add: async (record) => void (await db.insert(t.searchSettings).values(record)),
    newest: async (study) => {
      const mine = db.select().from(t.searchSettings).where(eq(t.searchSettings.study, study));
      return newest(await mine.orderBy(desc(t.searchSettings.turn)).limit(1));
    },
  },
  joinings: {
    add: async ({ findings, placed, ...record }) =>
      void (await db.insert(t.joining).values({ ...record, findings: [...findings], placed: [...placed] })),
    newest: async (filter) => {
      const mine = db.select().from(t.joining).where(eq(t.joining.filter, filter));
      return newest(await mine.orderBy(desc(t.joining.turn)).limit(1));
    },
    ofStudy: async (study) => {
      const rows = await db
        .selectDistinctOn([t.joining.filter], { joining: t.joining })
        .from(t.joining)
        .innerJoin(t.filter, eq(t.filter.id, t.joining.filter))
        .innerJoin(t.run, and(eq(t.run.id, t.filter.run), eq(t.run.study, study)))
        .orderBy(t.joining.filter, desc(t.joining.turn));
      return rows.map((row) => withoutTurn(row.joining));
    },
  },
});
