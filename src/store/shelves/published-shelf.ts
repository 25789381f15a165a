import { eq } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import { publishedValue as t } from '../schema-published.ts';
import type { Database } from './database.ts';

export const publishedShelf = (db: Database): Desk['publishedValues'] => ({
  add: async (record) => void (await db.insert(t).values(record)),
  ofStudy: async (study) =>
    (await db.select().from(t).where(eq(t.study, study)).orderBy(t.turn)).map(({ turn: _, ...row }) => row),
});
