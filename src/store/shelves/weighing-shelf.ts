import { eq, getTableColumns } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import { run } from '../schema.ts';
import { weighing as t } from '../schema-weighings.ts';
import type { Database } from './database.ts';

const { turn: _, ...columns } = getTableColumns(t);

export const weighingShelf = (db: Database): Desk['weighings'] => ({
  add: async (record) => void (await db.insert(t).values(record)),
  ofStudy: (study) =>
    db.select(columns).from(t).innerJoin(run, eq(run.id, t.run)).where(eq(run.study, study)).orderBy(t.turn),
});
