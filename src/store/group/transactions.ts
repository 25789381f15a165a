/** Transactions on a server's pool: changes one after the other, as on the embedded engine; no connection is lost. */
import { sql } from 'drizzle-orm';
import { drizzle } from 'drizzle-orm/node-postgres';
import type pg from 'pg';
import { RolledBack, type Transactions } from '../postgres-records.ts';
import type { Database } from '../shelves/database.ts';

/** Deeds read, decide and write; two at once would not see each other. The number is ours. */
const CHANGING = 7_319_002;

/** Gives a turn to each in the order of asking. */
function inTurn(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const own = last.then(work, work);
    last = own.catch(() => {});
    return own;
  };
}

export function poolTransactions(pool: pg.Pool): Transactions {
  const once = async <T>(
    work: (tx: Database) => Promise<T>,
    how: Parameters<Database['transaction']>[1],
  ): Promise<T> => {
    const client = await pool.connect();
    // A line may break between two questions, when nobody waits for an answer; the next question tells.
    const unheard = (): void => {};
    client.on('error', unheard);
    let broken = false;
    try {
      return await drizzle(client).transaction(work, how);
    } catch (failure) {
      // After anything but a refusal nobody knows what the connection is still good for; a new one costs little.
      broken = !(failure instanceof RolledBack);
      throw failure;
    } finally {
      client.off('error', unheard);
      client.release(broken);
    }
  };
  const turn = inTurn();
  return {
    look: (work) => once(work, { accessMode: 'read only', isolationLevel: 'repeatable read' }),
    // In turn within this process, so that those who wait hold no connection; by the database's lock among processes.
    change: (work) =>
      turn(() =>
        once(async (tx) => {
          await tx.execute(sql`select pg_advisory_xact_lock(${CHANGING})`);
          return work(tx);
        }, undefined),
      ),
  };
}
