/** Transactions on a server's pool: changes one after the other, as on the embedded engine; no connection is lost. */
import { drizzle } from 'drizzle-orm/node-postgres';
import type pg from 'pg';
import { RolledBack, type Transactions } from '../postgres-records.ts';
import type { Database } from '../shelves/database.ts';

/** One moment for all that is read. */
const LOOK = 'begin isolation level repeatable read, read only';
/** Deeds read, decide and write; two at once would not see each other, so each waits for the database's lock. The number is ours. */
const CHANGE = 'begin; select pg_advisory_xact_lock(7319002)';

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
  const once = async <T>(begin: string, work: (tx: Database) => Promise<T>): Promise<T> => {
    const client = await pool.connect();
    // A line may break between two questions, when nobody waits for an answer; the next question tells.
    const unheard = (): void => {};
    client.on('error', unheard);
    let broken = true;
    try {
      await client.query(begin);
      const result = await work(drizzle(client));
      await client.query('commit');
      broken = false;
      return result;
    } catch (failure) {
      // After anything but a refusal nobody knows what the connection is still good for: it is closed, which undoes all.
      if (failure instanceof RolledBack) {
        await client.query('rollback').then(
          () => {
            broken = false;
          },
          () => {},
        );
      }
      throw failure;
    } finally {
      client.off('error', unheard);
      client.release(broken);
    }
  };
  const turn = inTurn();
  return {
    look: (work) => once(LOOK, work),
    // In turn within this process, so that those who wait hold no connection; by the database's lock among processes.
    change: (work) => turn(() => once(CHANGE, work)),
  };
}
