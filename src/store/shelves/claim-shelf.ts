import { desc, eq } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as t from '../schema.ts';
import { type Database, first } from './database.ts';

export const claimShelf = (db: Database): Desk['claims'] => {
  const plain = {
    id: t.claimSnapshot.id,
    study: t.claimSnapshot.study,
    specimen: t.claimSnapshot.specimen,
    claim: t.claimSnapshot.claim,
    counts: t.claimSnapshot.counts,
    version: t.claimSnapshot.version,
    at: t.claimSnapshot.at,
    by: t.claimSnapshot.by,
  };
  return {
    add: async (record) => void (await db.insert(t.claimSnapshot).values(record)),
    ofStudy: (study) =>
      db
        .select(plain)
        .from(t.claimSnapshot)
        .where(eq(t.claimSnapshot.study, study))
        .orderBy(t.claimSnapshot.turn),
    newest: async (specimen) =>
      first(
        await db
          .select(plain)
          .from(t.claimSnapshot)
          .where(eq(t.claimSnapshot.specimen, specimen))
          .orderBy(desc(t.claimSnapshot.turn))
          .limit(1),
      ),
  };
};
