/** Records kept in Postgres, whichever Postgres it is. */
import type { Desk, Records } from '../actions/index.ts';
import { benchShelf } from './shelves/bench-shelf.ts';
import { claimShelf } from './shelves/claim-shelf.ts';
import { countShelf } from './shelves/count-shelf.ts';
import type { Database } from './shelves/database.ts';
import { evidenceShelf } from './shelves/evidence-shelf.ts';
import { groupShelf } from './shelves/group-shelf.ts';
import { markShelf } from './shelves/mark-shelf.ts';
import { particleShelf } from './shelves/particle-shelf.ts';
import { photoMoveShelf } from './shelves/photo-move-shelf.ts';
import { findingShelf, photoShelf } from './shelves/photo-shelves.ts';
import { planShelves } from './shelves/plan-shelves.ts';
import { publishedShelf } from './shelves/published-shelf.ts';
import { runShelves } from './shelves/run-shelves.ts';
import { searchShelves } from './shelves/search-shelves.ts';
import { spectrumShelf } from './shelves/spectrum-shelf.ts';
import { studyShelves } from './shelves/study-shelves.ts';
import { weighingShelf } from './shelves/weighing-shelf.ts';
import { withdrawalShelf } from './shelves/withdrawal-shelf.ts';

const desk = (db: Database): Desk => {
  const particles = particleShelf(db);
  return {
    ...studyShelves(db),
    ...runShelves(db),
    ...planShelves(db),
    photos: photoShelf(db),
    findings: findingShelf(db, particles.add),
    particles,
    ...searchShelves(db),
    marks: markShelf(db),
    counts: countShelf(db),
    claims: claimShelf(db),
    ...benchShelf(db),
    ...groupShelf(db),
    ...evidenceShelf(db),
    ...spectrumShelf(db),
    publishedValues: publishedShelf(db),
    weighings: weighingShelf(db),
    photoMoves: photoMoveShelf(db),
    withdrawalWords: withdrawalShelf(db),
  };
};

/** How an engine runs a transaction: `look` sees one moment, `change` sees all changes before it. */
export interface Transactions {
  look<T>(work: (tx: Database) => Promise<T>): Promise<T>;
  change<T>(work: (tx: Database) => Promise<T>): Promise<T>;
}

/**
 * The embedded engine has one connection, so its transactions come one after the other by themselves. `room` throws when
 * nothing more may be written.
 */
export const embeddedTransactions = (db: Database, room: () => void): Transactions => ({
  look: (work) => db.transaction(work, { accessMode: 'read only' }),
  change: async (work) => {
    room();
    return db.transaction(work);
  },
});

/** Carries a refused outcome out of a transaction that it undoes. */
export class RolledBack extends Error {
  readonly outcome: unknown;
  constructor(outcome: unknown) {
    super('rolled back');
    this.outcome = outcome;
  }
}

const isRefused = (outcome: unknown): boolean =>
  typeof outcome === 'object' && outcome !== null && 'ok' in outcome && outcome.ok === false;

export const postgresRecords = (run: Transactions, close: () => Promise<void>): Records => ({
  look: (work) => run.look((tx) => work(desk(tx))),
  change: async <T>(work: (at: Desk) => Promise<T>): Promise<T> => {
    try {
      return await run.change(async (tx) => {
        const outcome = await work(desk(tx));
        if (isRefused(outcome)) throw new RolledBack(outcome);
        return outcome;
      });
    } catch (failure) {
      if (failure instanceof RolledBack) return failure.outcome as T;
      throw failure;
    }
  },
  close,
});
