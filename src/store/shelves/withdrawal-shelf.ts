import { eq, getTableColumns, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import { withdrawalWord } from '../schema-withdrawals.ts';
import type { Database } from './database.ts';

const { turn: _, ...columns } = getTableColumns(withdrawalWord);

export const withdrawalShelf = (db: Database): Desk['withdrawalWords'] => ({
  add: async (record) => void (await db.insert(withdrawalWord).values(record)),
  ofStudy: (study) =>
    db
      .select(columns)
      .from(withdrawalWord)
      .where(eq(withdrawalWord.study, study))
      .orderBy(withdrawalWord.turn),
});

/** A portion or a procedure was not withdrawn, or was put back. */
export const inUse = (subject: unknown) => sql`${subject} not in (select subject from withdrawn_now)`;
/** A run counts: neither it nor its portion is withdrawn. */
export const runCounts = (run: unknown) => sql`${run} not in (select id from withdrawn_run)`;
